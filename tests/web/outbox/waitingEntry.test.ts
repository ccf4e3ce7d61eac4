import { expect, test } from 'vitest';
import type { Entry } from '#shared/entries/entry.ts';
import {
  entriesAhead,
  nextToSend,
  recordsNamed,
  type WaitingEntry,
} from '../../../web/outbox/waitingEntry.ts';

const id = (nth: number) => `0195502c-0000-7000-8000-${String(nth).padStart(12, '0')}`;
const happenedAt = '2026-03-02T08:00:00Z';
const [ferment, otherFerment, strain] = [id(901), id(902), id(903)];

const waiting = (seq: number, entry: Entry, more: Partial<WaitingEntry> = {}): WaitingEntry => ({
  seq,
  id: id(seq),
  entry,
  author: 'ines',
  authorName: 'Ines',
  madeMs: Date.parse(happenedAt),
  clockFastMs: null,
  after: [],
  page: { href: '/', title: 'Today' },
  tries: 0,
  ...more,
});
const reading = (fermentId: string): Entry => ({
  kind: 'reading',
  happenedAt,
  by: 'Ines',
  fermentId,
  gravitySg: 1.02,
});
const crop: Entry = {
  kind: 'crop',
  happenedAt,
  by: 'Ines',
  fermentId: ferment,
  cut: 'skim 2',
  amountKg: 10,
};
const stainOf = (lotId: string): Entry => ({
  kind: 'stain',
  happenedAt,
  by: 'Ines',
  lotId,
  stain: 'methylene blue',
  live: 190,
  dead: 10,
});
const problem = { status: 422, code: 'invalid', title: '', detail: '', errors: [] };
const nothingHeld = { author: 'ines', setAside: new Set<string>() };
const refused = { problem };

test('the earliest goes first', () => {
  const queue = [waiting(1, reading(ferment)), waiting(2, reading(ferment))];
  expect(nextToSend(queue, nothingHeld)?.seq).toBe(1);
  expect(nextToSend([], nothingHeld)).toBeUndefined();
});

test('a refused entry lets go by what does not rest on it', () => {
  const queue = [waiting(1, crop, refused), waiting(2, stainOf(id(1))), waiting(3, crop)];
  expect(nextToSend(queue, nothingHeld)?.seq).toBe(3);
});

test('what rests on something that waits behind a refusal waits too', () => {
  const correction: Entry = { ...stainOf(id(1)), supersedes: id(2), reason: 'Miscounted' };
  const queue = [waiting(1, crop, refused), waiting(2, stainOf(id(1))), waiting(3, correction)];
  expect(nextToSend(queue, nothingHeld)).toBeUndefined();
  expect(entriesAhead(queue[2] ?? waiting(0, crop), queue).map(({ seq }) => seq)).toEqual([1, 2]);
});

test('the later entries of one form wait behind its earlier ones', () => {
  const queue = [
    waiting(1, reading(ferment), refused),
    waiting(2, reading(ferment), { after: [id(1)] }),
  ];
  expect(nextToSend(queue, nothingHeld)).toBeUndefined();
});

test('a failure of the server holds back its own records alone', () => {
  const queue = [
    waiting(1, reading(ferment)),
    waiting(2, reading(ferment)),
    waiting(3, reading(otherFerment)),
  ];
  expect(nextToSend(queue, { author: 'ines', setAside: new Set([id(1)]) })?.seq).toBe(3);
});

test('the entries of someone else wait for them', () => {
  const queue = [
    waiting(1, reading(ferment), { author: 'a' }),
    waiting(2, reading(ferment), { author: 'b' }),
  ];
  expect(nextToSend(queue, { author: 'b', setAside: new Set() })?.seq).toBe(2);
  expect(nextToSend(queue, { author: 'a', setAside: new Set() })?.seq).toBe(1);
  expect(nextToSend(queue, nothingHeld)).toBeUndefined();
});

test('a gyle that waits is not overtaken by the pitch into it', () => {
  const gyle: Entry = {
    kind: 'ferment',
    happenedAt,
    by: 'Ines',
    gyle: '413',
    beer: 'Low Water Mild',
    vesselId: id(904),
    strainId: strain,
    volumeL: 1000,
    originalGravitySg: 1.036,
  };
  const pitch: Entry = {
    kind: 'pitch',
    happenedAt,
    by: 'Ines',
    fermentId: id(1),
    lotId: id(905),
    amountL: 11,
  };
  const queue = [waiting(1, gyle), waiting(2, pitch)];
  expect(nextToSend(queue, { author: 'ines', setAside: new Set([id(1)]) })).toBeUndefined();
  expect(recordsNamed(gyle)).toEqual([]);
  expect(recordsNamed(pitch)).toEqual([id(1), id(905)]);
});
