import type { Verdict } from '#shared/verdict.ts';
import { Status } from './Status.tsx';

/** Every reason of a verdict: what was found, the limit, and who says so. */
export function ReasonList({ verdict }: { verdict: Verdict }) {
  return (
    <ul class="reason-list">
      {verdict.reasons.map((reason) => (
        <li key={`${reason.rule}${reason.recordId}`}>
          <Status verdict={reason.verdict} />
          <div>
            <strong>{reason.text}</strong>
            <dl>
              <dt>Found</dt>
              <dd>{reason.figure}</dd>
              <dt>Limit</dt>
              <dd>{reason.limit}</dd>
              <dt>Source</dt>
              <dd>
                {reason.source} ({reason.evidence})
              </dd>
            </dl>
          </div>
        </li>
      ))}
    </ul>
  );
}
