import { dayMs } from '#shared/durations.ts';
import type { TraceNode } from './traceNodes.ts';

/** Casks racked longer ago are taken for empty. Common practice, no source. */
export const caskDays = 60;

/** Casks racked since then may still be in the trade. */
export const inTradeSinceMs = (nowMs: number) => nowMs - caskDays * dayMs;

/** Whether something can still be done about a record, or something speaks against it. */
export function mattersStill({ kind, state, status, at }: TraceNode, nowMs: number): boolean {
  if (status !== 'plain' || state === 'in store') return true;
  if (kind === 'casks') return Date.parse(at) >= inTradeSinceMs(nowMs);
  return kind === 'ferment' && state !== 'racked';
}
