import { expect, test } from 'vitest';
import type { FermentStanding } from '#shared/views/ferments.ts';
import type { Recorded, StrainView } from '#shared/views/recorded.ts';
import { aStrain } from '#tests/support/brewery.ts';
import { likelyCut, measureOf } from '../../web/components/lots/cropDefaults.ts';

const envelope = {
  happenedAt: '2026-03-01T09:00:00Z',
  by: 'Nell',
  id: '0190aaaa-0000-7000-8000-000000000001',
  entryId: '0190aaaa-0000-7000-8000-000000000001',
  seq: 1,
  receivedAt: '2026-03-01T09:00:00Z',
  corrected: false,
};

const ness = (crops: StrainView['crops']): StrainView => ({
  ...aStrain({ name: 'Ness No. 1', code: 'N', crops }),
  ...envelope,
});

const aFerment = (
  crops: StrainView['crops'],
  apparentAttenuationPercent: number | null,
  cuts: string[] = [],
): FermentStanding => ({
  id: envelope.id,
  record: {
    ...envelope,
    kind: 'ferment',
    gyle: 'G212',
    beer: 'Groyne Bitter',
    vesselId: envelope.id,
    strainId: envelope.id,
    volumeL: 1650,
    originalGravitySg: 1.04,
  },
  siteId: null,
  vessel: 'FV1',
  strain: ness(crops),
  state: 'fermenting',
  pitches: [],
  readings: [],
  crops: cuts.map((cut) => ({ lotId: envelope.id, code: 'N-G212A', cut, at: envelope.happenedAt })),
  chill: null,
  rack: null,
  generation: 3,
  hoursSincePitch: 45,
  latestGravitySg: 1.02,
  apparentAttenuationPercent,
  halfTimeHours: null,
  flag: { status: 'on course', why: '' },
  running: null,
});

// Common practice, no source: the first head is dirt, the firm second one is kept to pitch.
test('likelyCut(ferment) goes from the first head to the second by gravity', () => {
  const cuts = [null, 10, 37, 38, 75].map((fallen) => likelyCut(aFerment('top', fallen)));
  expect(cuts).toEqual(['skim 1', 'skim 1', 'skim 1', 'skim 2', 'skim 2']);
});

test('likelyCut(ferment) goes on from the cuts already taken', () => {
  expect(likelyCut(aFerment('top', 20, ['skim 1']))).toBe('skim 2');
  expect(likelyCut(aFerment('top', 60, ['skim 1', 'skim 2']))).toBe('later skim');
});

test('a bottom cropper is taken from the cone', () => {
  expect(likelyCut(aFerment('bottom', 75))).toBe('cone');
});

test('measureOf tells how the newest crop was measured', () => {
  const crop: Recorded<'crop'> = {
    ...envelope,
    kind: 'crop',
    fermentId: envelope.id,
    cut: 'skim 2',
    amountKg: 18,
    place: 'Cold room',
  };
  expect(measureOf(crop)).toEqual({ unit: 'kg', amount: 18, place: 'Cold room' });
  expect(measureOf(undefined)).toEqual({ unit: 'L', amount: undefined, place: undefined });
});
