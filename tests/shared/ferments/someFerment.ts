import { hourMs } from '#shared/durations.ts';
import type { FermentEvidence } from '#shared/ferments/fermentEvidence.ts';
import { aStrain } from '#tests/support/brewery.ts';

export const pitchedAt = Date.UTC(2026, 2, 2, 10);
export const hoursIn = (hours: number) => new Date(pitchedAt + hours * hourMs).toISOString();

const entered = (id: string, hours: number) => ({
  id,
  entryId: id,
  seq: 1,
  receivedAt: hoursIn(hours),
  corrected: false,
  happenedAt: hoursIn(hours),
  by: 'Maeve',
});

type Read = { hours: number; gravitySg?: number; tempC?: number; cellsPerMl?: number };

/** Gyle 412 at 1040, pitched at its target with a lot two days old and 95 % alive. */
export function someFerment(
  readings: readonly Read[],
  change: Partial<FermentEvidence> = {},
): FermentEvidence {
  return {
    record: {
      ...entered('ferment', -1),
      kind: 'ferment',
      gyle: '412',
      beer: 'Headland Bitter',
      vesselId: 'fv1',
      strainId: 'tern',
      volumeL: 1000,
      originalGravitySg: 1.04,
      setTempC: 17,
      oxygenMgPerL: 9,
    },
    siteId: null,
    vessel: 'FV1',
    strain: { ...aStrain(), ...entered('tern', -1000) },
    pitches: [
      {
        ...entered('pitch', 0),
        kind: 'pitch',
        fermentId: 'ferment',
        lotId: 'lot',
        amountL: 10,
        // 0.75 million/mL/°P in 1000 L of 9.993 °P (ASBC cubic).
        expectedViableCells: 0.75e6 * 9.993 * 1e6,
        lotCode: 'TN-411A',
        generation: 3,
        lotTakenAt: hoursIn(-48),
        viabilityPercent: 95,
      },
    ],
    readings: readings.map(({ hours, ...measured }, i) => ({
      ...entered(`reading-${i}`, hours),
      kind: 'reading' as const,
      fermentId: 'ferment',
      ...measured,
    })),
    crops: [],
    chill: null,
    rack: null,
    ...change,
  };
}

export const chilled = (hours: number): FermentEvidence['chill'] => ({
  ...entered('chill', hours),
  kind: 'chill',
  fermentId: 'ferment',
  toTempC: 10,
});
