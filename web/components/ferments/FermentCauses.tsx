import { causeFigure, causeTitles } from '#shared/ferments/causeWords.ts';
import type { Cause } from '#shared/science/causesToCheck.ts';
import type { RunningCourse } from '#shared/views/ferments.ts';
import { Tag, type Tone } from '../frame/Status.tsx';
import { Why } from '../frame/Why.tsx';

const tones: Record<Cause['finding'], Tone> = {
  outside: 'stop',
  'not recorded': 'watch',
  within: 'good',
};

/** What to look into when a ferment is slow, with what the log holds of each. */
export function FermentCauses({ running }: { running: RunningCourse }) {
  return (
    <section aria-label="Causes to look into">
      <h2>Look into, in this order</h2>
      <ol class="causes">
        {running.causes.map((cause) => (
          <li key={cause.cause}>
            <Tag tone={tones[cause.finding]}>{cause.finding}</Tag>
            <div>
              <p>
                <strong>{causeTitles[cause.cause]}:</strong> {recorded(cause, running)}{' '}
                <span class="cause-limit">
                  ({cause.side} {causeFigure(cause, cause.limit)})
                </span>
              </p>
              <Why title="Who says so">
                <p>{`${cause.source} (${cause.evidence}).`}</p>
              </Why>
            </div>
          </li>
        ))}
      </ol>
      <p class="prose">
        A figure outside its limit is worth a look; it does not prove that it is the cause.
      </p>
    </section>
  );
}

function recorded(cause: Cause, { pitchFrom }: RunningCourse): string {
  if (cause.recorded === undefined) return 'nothing in the log';
  const said = causeFigure(cause, cause.recorded);
  return cause.cause === 'viable pitch' && pitchFrom !== null ? `${said}, ${pitchFrom}` : said;
}
