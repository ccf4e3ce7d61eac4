import type { Cause } from '#shared/science/causesToCheck.ts';
import type { FermentFlag, FermentState, RunningCourse } from '#shared/views.ts';

/** Whether a ferment runs as it should, in a word and a sentence. */
export function fermentFlag(state: FermentState, running: RunningCourse | null): FermentFlag {
  if (state === 'collected') return { status: 'too early', why: 'It is not pitched yet.' };
  if (state !== 'fermenting') return { status: 'done', why: `It is ${state}.` };
  if (running === null) return { status: 'too early', why: 'Not compared with others yet.' };
  return { status: running.status, why: sentences(running) };
}

function sentences({ status, why, causes }: RunningCourse): string {
  const said = `${why.slice(0, 1).toUpperCase()}${why.slice(1)}`;
  if (status === 'no reading') return `${said}: take a gravity.`;
  const [first] = causes;
  if (status !== 'slow' || first === undefined || first.finding === 'within') return `${said}.`;
  return `${said}. Look into ${first.cause} first: ${figureOf(first)}.`;
}

function figureOf({ recorded, limit, side, unit, finding }: Cause): string {
  if (finding === 'not recorded' || recorded === undefined) return 'it is not recorded';
  return `${recorded.toFixed(recorded < 10 ? 2 : 0)} ${unit}, ${side} ${limit} is asked for`;
}
