import type { Cause } from '#shared/science/causesToCheck.ts';
import { STALE_AFTER_HOURS } from '#shared/science/slowFerment.ts';
import type { FermentFlag, FermentState, RunningCourse } from '#shared/views/ferments.ts';

/** Whether a ferment runs as it should, in a word and a sentence. */
export function fermentFlag(state: FermentState, running: RunningCourse | null): FermentFlag {
  if (running !== null) return { status: running.status, why: sentences(running) };
  return state === 'collected'
    ? { status: 'too early', why: 'It is not pitched yet.' }
    : { status: 'done', why: `It is ${state}.` };
}

function sentences({ status, why, causes: [first], hoursUnread }: RunningCourse): string {
  const said = `${why.slice(0, 1).toUpperCase()}${why.slice(1)}`;
  if (status === 'no reading') return `${said}: take a gravity.`;
  if (status !== 'slow') return `${said}.`;
  const look =
    first === undefined || first.finding === 'within'
      ? ''
      : ` Look into ${first.cause} first: ${figureOf(first)}.`;
  const read =
    hoursUnread > STALE_AFTER_HOURS
      ? ` Not read for ${hoursUnread.toFixed(0)} h: take a gravity.`
      : '';
  return `${said}.${look}${read}`;
}

function figureOf({ recorded, limit, side, unit, finding }: Cause): string {
  if (finding === 'not recorded' || recorded === undefined) return 'it is not recorded';
  return `${recorded.toFixed(recorded < 10 ? 2 : 0)} ${unit}, ${side} ${limit} is asked for`;
}
