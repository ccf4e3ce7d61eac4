import type { JournalRow } from '../../apiClient.ts';
import { moment } from '../../format.ts';
import { Tag } from '../frame/Status.tsx';

type Props = { history: readonly JournalRow[]; traceHref: string };

/** What must not be overlooked about a ferment: its family is on hold, or was. */
export function HoldAttention({ history, traceHref }: Props) {
  const struck = new Set(history.map(({ supersedes }) => supersedes));
  const standing = history
    .filter(({ id }) => !struck.has(id))
    .map(({ body, ...row }) => ({ ...row, body }));
  const lifted = new Map(
    standing.flatMap(({ body }) => (body.kind === 'familyRelease' ? [[body.holdId, body]] : [])),
  );
  const holds = standing.flatMap((row) =>
    row.body.kind === 'familyHold' ? [{ ...row, body: row.body }] : [],
  );
  if (holds.length === 0) return null;
  return (
    <div class="warning">
      {holds.map(({ id, recordId, body, by }) => {
        const release = lifted.get(recordId);
        return (
          <p key={id}>
            <Tag tone={release === undefined ? 'watch' : 'plain'}>
              {release === undefined ? 'look at it' : 'released'}
            </Tag>{' '}
            Its family was put on hold {moment(body.happenedAt)}, by {by}: {body.why}.{' '}
            {release === undefined
              ? 'Look at the beer and its casks.'
              : `Released ${moment(release.happenedAt)}, by ${release.by}: ${release.why}.`}
          </p>
        );
      })}
      <p>
        <a href={traceHref}>See the whole family</a>
      </p>
    </div>
  );
}
