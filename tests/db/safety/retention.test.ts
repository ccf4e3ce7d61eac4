import { expect, test } from 'vitest';
import { keptMoments } from '#db/safety/retention.ts';
import { dayMs, hourMs } from '#shared/durations.ts';

const nowMs = Date.UTC(2026, 2, 31, 12);
const every = (stepMs: number, count: number) =>
  Array.from({ length: count }, (_, n) => nowMs - n * stepMs);
const within = (kept: Set<number>, fromDays: number, toDays: number) =>
  [...kept].filter((ms) => nowMs - ms > fromDays * dayMs && nowMs - ms <= toDays * dayMs).length;

test('keptMoments keeps all of a day, then one an hour, a day and a month', () => {
  const kept = keptMoments(every(hourMs / 4, 4 * 24 * 400), nowMs);
  expect(within(kept, -1, 1)).toBe(97);
  expect(within(kept, 1, 7)).toBe(6 * 24);
  expect(within(kept, 7, 35)).toBe(28);
  expect(within(kept, 35, 400)).toBeGreaterThanOrEqual(11);
  expect(within(kept, 35, 400)).toBeLessThanOrEqual(13);
});

test('keptMoments keeps the newest, however old', () => {
  const old = nowMs - 5_000 * dayMs;
  expect([...keptMoments([old, old - dayMs], nowMs)]).toEqual([old]);
  expect(keptMoments([], nowMs).size).toBe(0);
});

test('what is kept today is kept for as long as its rule says, thinned day by day', () => {
  let kept = new Set<number>();
  for (let day = 0; day < 120; day += 1) {
    const atMs = nowMs + day * dayMs;
    const fresh = Array.from({ length: 24 }, (_, hour) => atMs - hour * hourMs);
    kept = keptMoments([...kept, ...fresh], atMs);
  }
  const endMs = nowMs + 119 * dayMs;
  const ages = [...kept].map((ms) => Math.floor((endMs - ms) / dayMs));
  expect(ages.filter((age) => age >= 8 && age <= 34).length).toBeGreaterThanOrEqual(27);
  expect(ages.some((age) => age > 80)).toBe(true);
});
