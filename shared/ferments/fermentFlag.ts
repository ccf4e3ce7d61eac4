import type { Cause } from '#shared/science/causesToCheck.ts';
import { STALE_AFTER_HOURS } from '#shared/science/slowFerment.ts';
import type { FermentFlag, FermentState, RunningCourse } from '#shared/views/ferments.ts';
import { causeFigure, causeTitles } from './causeWords.ts';
import { unpitched } from './unpitched.ts';

/** Whether a ferment runs as it should, in a word and a sentence. */
export function fermentFlag(state: FermentState, running: RunningCourse | null): FermentFlag {
  if (running !== null) return { status: running.status, why: sentences(running) };
  return state === 'collected' ? unpitched : { status: 'done', why: `It is ${state}.` };
}

function sentences({ status, why, causes: [first], hoursUnread }: RunningCourse): string {
  const said = `${why.slice(0, 1).toUpperCase()}${why.slice(1)}`;
  if (status === 'no reading') return `${said}: take a gravity.`;
  if (status !== 'slow') return `${said}.`;
  const look =
    first === undefined || first.finding === 'within' ? '' : ` Check first: ${figureOf(first)}.`;
  const read =
    hoursUnread > STALE_AFTER_HOURS
      ? ` Not read for ${hoursUnread.toFixed(0)} h: take a gravity.`
      : '';
  return `${said}.${look}${read}`;
}

function figureOf(cause: Cause): string {
  const { recorded, limit, side, finding } = cause;
  const title = causeTitles[cause.cause];
  const what = `${title.slice(0, 1).toLowerCase()}${title.slice(1)}`;
  if (finding === 'not recorded' || recorded === undefined) return `${what}, not recorded`;
  const wanted = `${side} ${causeFigure(cause, limit)}`;
  return `${what}, ${causeFigure(cause, recorded)} (should be ${wanted})`;
}
