import { type Override, overrideReason, overrideWords } from '#shared/lots/overrides.ts';
import { moment } from '../../format.ts';
import { Tag } from '../frame/Status.tsx';

/** What was done to this yeast though a rule spoke against it; it shows wherever the yeast went. */
export function AllTheSame({ overrides }: { overrides: readonly Override[] }) {
  if (overrides.length === 0) return null;
  return (
    <div class="warning">
      {overrides.map((override) => (
        <p key={`${override.recordId} ${override.what}`}>
          <Tag tone="watch">{overrideWords[override.what]}</Tag> {moment(override.at)}, by{' '}
          {override.by}: {overrideReason(override)}
        </p>
      ))}
    </div>
  );
}
