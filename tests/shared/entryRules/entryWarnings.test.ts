import { expect, test } from 'vitest';
import { warningsOf } from '#shared/entryRules/entryWarnings.ts';
import { at } from '#tests/support/brewery.ts';

type Known = Parameters<typeof warningsOf>[1];
const by = 'Ines';
const lot = {
  ...{ code: 'TN-412A', strainId: 'tern', happenedMs: 0, unit: 'kg', left: 3 },
  ...{ isUsed: true, siteId: null },
} as const;
const ferment = {
  ...{ gyle: '413', strainId: 'tern', happenedMs: 0, originalGravitySg: 1.04 },
  ...{ pitchedMs: null, rackedMs: null, hasCrops: false, siteId: null },
};
const known = { lots: new Map([['lot', lot]]), held: new Map(), isCorrection: false, ferment };
const warned = (entry: Parameters<typeof warningsOf>[0], facts: object = {}) =>
  warningsOf(entry, { ...known, ...facts } as unknown as Known);

const taken = { happenedAt: at(50), by, lotId: 'lot' };
const discard = (amountKg: number) =>
  ({ ...taken, kind: 'discard', why: 'old', amountKg }) as const;

test('more taken than was left warns however it was taken; all that was left does not', () => {
  const over = ['By the record only 3 kg of TN-412A were left: check the amounts.'];
  const pitch = (amountKg: number) =>
    ({ ...taken, kind: 'pitch', fermentId: 'gyle', amountKg }) as const;
  const send = (amountKg: number) =>
    ({ ...taken, kind: 'transfer', toSiteId: 'hill', amountKg }) as const;
  for (const take of [pitch, send]) {
    expect(warned(take(4))).toEqual(over);
    expect(warned(take(3))).toEqual([]);
  }
  const mix = (amountKg: number) => {
    const parents = [{ lotId: 'lot', amountKg }];
    return { happenedAt: at(50), by, kind: 'blend' as const, parents, amountKg: 9 };
  };
  expect(warned(mix(4))).toEqual(over);
  expect(warned(mix(3))).toEqual([]);
  expect(warned(discard(4))).toEqual(over);
  expect(warned(discard(3))).toEqual([]);
});

test('a gravity above the original warns, the original itself does not', () => {
  const read = (gravitySg: number) =>
    warned({ kind: 'reading', happenedAt: at(50), by, fermentId: 'gyle', gravitySg });
  expect(read(1.0405)).toEqual(['This gravity is above the original gravity: check it.']);
  expect(read(1.04)).toEqual([]);
});

test('a correction warns of nothing: what it takes is already off what is left', () => {
  expect(warned(discard(4), { isCorrection: true })).toEqual([]);
});
