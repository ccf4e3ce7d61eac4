import { expect, test } from 'vitest';
import { washFindings, washObjections } from '#shared/treatments/acidWash.ts';

// Simpson & Hammond 1989: phosphoric acid, pH 2.1, at most 5 °C. Oxford Companion: two hours.
test('a wash within the published bounds finds nothing', () => {
  expect(washFindings({ agent: 'Phosphoric acid', ph: 2.1, tempC: 4, minutes: 120 })).toEqual([]);
});

test.each([
  [{ ph: 1.9 }, 'ph'],
  [{ ph: 2.8 }, 'ph'],
  [{ tempC: 5.1 }, 'tempC'],
  [{ minutes: 121 }, 'minutes'],
] as const)('a wash at %o lies outside', (wash, field) => {
  expect(washFindings(wash).map((finding) => finding.field)).toEqual([field]);
});

// Simpson 1987, abstract: acidified ammonium persulphate at pH 2.8.
test('persulphate is washed at pH 2.8, where plain acid would be too weak', () => {
  const agent = 'Acidified ammonium persulphate';
  expect(washFindings({ agent, ph: 2.8 })).toEqual([]);
  expect(washFindings({ agent, ph: 2.1 }).map(({ field }) => field)).toEqual(['ph']);
});

const sound = {
  ...{ viabilityPercent: 97, minViabilityPercent: 90, storedDays: 1, maxStorageDays: 4 },
  ...{ isFresh: false, hasContaminants: false, abvPercent: 4.1 },
};

test('sound yeast of ordinary beer may be washed', () => {
  expect(washObjections(sound)).toEqual([]);
  expect(washObjections({ ...sound, viabilityPercent: null, abvPercent: null })).toEqual([]);
});

// Simpson & Hammond 1989: not long stored, infected or weak yeast; above 8 % v/v from memory.
test('sick yeast and yeast of strong beer are not washed', () => {
  const said = washObjections({
    ...sound,
    ...{ viabilityPercent: 84, storedDays: 6, hasContaminants: true, abvPercent: 8.4 },
  });
  expect(said).toEqual([
    'only 84.0 % of it was alive, below 90 %',
    'it was stored for 6.0 days, over 4',
    'a plate of it grew something',
    'it comes from beer of 8.4 % v/v, over 8 %',
  ]);
});

test('a fresh culture is not stored too long', () => {
  expect(washObjections({ ...sound, isFresh: true, storedDays: 40 })).toEqual([]);
});
