import { expect, test } from 'vitest';
import { demoEntries } from '#db/demo/demoEntries.ts';
import { dayMs } from '#shared/durations.ts';
import type { RecordKind } from '#shared/entries/entry.ts';
import { uuidV7Pattern } from '#shared/fields.ts';

const nowMs = Date.UTC(2026, 5, 10, 9, 20);
const entries = demoEntries(nowMs);
const ofKind = (kind: RecordKind | 'void') => entries.filter(({ entry }) => entry.kind === kind);

test('demoEntries(now) gives the same entries and ids for the same moment', () => {
  expect(demoEntries(nowMs)).toEqual(entries);
});

test('demoEntries(now) tells the same story a day later', () => {
  const kinds = (moment: number) => demoEntries(moment).map(({ entry }) => entry.kind);
  expect(kinds(nowMs + dayMs)).toEqual(entries.map(({ entry }) => entry.kind));
});

test('demoEntries(now) spans eighteen months and ends at the present', () => {
  const moments = entries.map(({ entry }) => Date.parse(entry.happenedAt));
  expect(Math.min(...moments)).toBeLessThan(nowMs - 545 * dayMs);
  expect(Math.min(...moments)).toBeGreaterThan(nowMs - 560 * dayMs);
  expect(Math.max(...moments)).toBeLessThanOrEqual(nowMs);
  expect(Math.max(...moments)).toBeGreaterThan(nowMs - dayMs);
});

test('entries are received in order, after they happened and not after the present', () => {
  entries.forEach(({ entry, receivedMs }, index) => {
    expect(receivedMs).toBeGreaterThanOrEqual(entries[index - 1]?.receivedMs ?? 0);
    expect(receivedMs).toBeGreaterThan(Date.parse(entry.happenedAt));
    expect(receivedMs).toBeLessThanOrEqual(nowMs);
  });
  expect(entries.length).toBeGreaterThan(5000);
});

test('every entry bears an id of its own, of version 7', () => {
  const ids = entries.map(({ id }) => id);
  expect(new Set(ids).size).toBe(ids.length);
  expect(ids.filter((id) => !uuidV7Pattern.test(id))).toEqual([]);
});

test('three brews a week for 78 weeks, and one more for the festival', () => {
  expect(ofKind('ferment')).toHaveLength(3 * 78 + 1);
});

test('every ferment has been looked at six to twelve times once it is racked', () => {
  const looks = new Map<string, number>();
  for (const { entry } of ofKind('reading'))
    if (entry.kind === 'reading' && entry.gravitySg !== undefined)
      looks.set(entry.fermentId, (looks.get(entry.fermentId) ?? 0) + 1);
  const racked = ofKind('rack').map(({ entry }) =>
    entry.kind === 'rack' ? (looks.get(entry.fermentId) ?? 0) : 0,
  );
  expect(Math.min(...racked)).toBeGreaterThanOrEqual(6);
  expect(Math.max(...racked)).toBeLessThanOrEqual(12);
  expect(racked.length).toBeGreaterThan(220);
});

test('a mistyped gravity is corrected with its reason, and an entry struck out', () => {
  const corrections = ofKind('reading').filter(({ entry }) => entry.supersedes !== undefined);
  expect(corrections.length).toBeGreaterThan(1);
  for (const { entry } of corrections)
    expect(entry.reason).toMatch(/^Read 1\.\d{3}, typed 1\.\d{3}$/);
  expect(ofKind('void')).toHaveLength(2);
});
