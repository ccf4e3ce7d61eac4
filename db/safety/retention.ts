import { dayMs } from '#shared/durations.ts';

// How far back, and how many for each: every one of a day, one an hour for a week, one a day for
// five weeks, one a month for two years.
const rules: readonly { withinMs: number; slotOf: (atMs: number) => string }[] = [
  { withinMs: dayMs, slotOf: String },
  { withinMs: 7 * dayMs, slotOf: (atMs) => new Date(atMs).toISOString().slice(0, 13) },
  { withinMs: 35 * dayMs, slotOf: (atMs) => new Date(atMs).toISOString().slice(0, 10) },
  { withinMs: 24 * 31 * dayMs, slotOf: (atMs) => new Date(atMs).toISOString().slice(0, 7) },
];

/**
 * Which of these moments are kept at `nowMs`: the newest of every slot of every rule, and the
 * newest of all however old it is.
 */
export function keptMoments(momentsMs: readonly number[], nowMs: number): Set<number> {
  const newestFirst = [...momentsMs].sort((a, b) => b - a);
  const kept = new Set(newestFirst.slice(0, 1));
  for (const { withinMs, slotOf } of rules) {
    const taken = new Set<string>();
    for (const atMs of newestFirst) {
      if (nowMs - atMs > withinMs || taken.has(slotOf(atMs))) continue;
      taken.add(slotOf(atMs));
      kept.add(atMs);
    }
  }
  return kept;
}
