import type { Evidence, Reason } from '#shared/verdict.ts';
import type { LotStanding } from '#shared/views.ts';
import { Status } from './Status.tsx';
import { Why } from './Why.tsx';

const evidenceWords: Record<Evidence, string> = {
  published: 'published',
  'second hand': 'at second hand',
  derived: 'derived',
  'from memory': 'from memory',
  'house policy': 'house policy',
  record: 'the record itself',
};

/** Every reason of a verdict, the worst first: figure, limit, and who says so. */
export function ReasonList({ lot }: { lot: LotStanding }) {
  return (
    <ul class="reason-list">
      {lot.verdict.reasons.map((reason) => (
        <li key={`${reason.rule} ${reason.recordId}`}>
          <Status verdict={reason.verdict} />
          <div>
            <p>
              <strong>{reason.text}</strong>
            </p>
            <p class="reason-figure">
              {reason.figure} <span class="reason-limit">(limit: {reason.limit})</span>
            </p>
            <Why title="Who says so">
              <p>
                {sentence(reason)} {lot.strain.name}’s limits are set <a href="/setup">in Setup</a>.
              </p>
            </Why>
          </div>
        </li>
      ))}
    </ul>
  );
}

function sentence({ source, evidence }: Reason): string {
  const said = `${source.slice(0, 1).toUpperCase()}${source.slice(1)}`;
  return evidence === 'record' ? `${said}.` : `${said} (${evidenceWords[evidence]}).`;
}
