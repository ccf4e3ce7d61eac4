import { hourMs } from '#shared/durations.ts';
import type { LineFerment } from '#shared/lines/linePoint.ts';
import type { LineEvidence } from '#shared/lines/lineStanding.ts';
import { aStrain, at, storyStartMs } from './brewery.ts';

const weekMs = 7 * 24 * hourMs;

/** A racked ferment: 1040 to 1010 with a half time of 27 h, pitched 10 kg and cropped 28. */
export function aLineFerment(generation: number, facts: Partial<LineFerment> = {}): LineFerment {
  const pitchedMs = storyStartMs + generation * weekMs;
  return {
    id: `ferment-${generation}`,
    gyle: String(400 + generation),
    beer: 'Headland Bitter',
    originalGravitySg: 1.04,
    pitchedMs,
    chilledMs: pitchedMs + 80 * hourMs,
    rackedMs: pitchedMs + 100 * hourMs,
    generation,
    pitches: [{ amountL: null, amountKg: 10 }],
    crops: [{ amountL: null, amountKg: 28 }],
    readings: readingsWith(pitchedMs, 27),
    stain: { live: 480, dead: 20 },
    petites: null,
    ...facts,
  };
}

/** Gravities that fall on straight lines past the middle, 1025, at the half time. */
export const readingsWith = (pitchedMs: number, halfTimeHours: number) =>
  [
    { hours: halfTimeHours - 10, gravitySg: 1.035 },
    { hours: halfTimeHours + 10, gravitySg: 1.015 },
    { hours: 75, gravitySg: 1.01 },
  ].map(({ hours, gravitySg }) => ({
    happenedMs: pitchedMs + hours * hourMs,
    gravitySg,
    cellsPerMl: null,
  }));

/** A line of Tern with one ferment for each half time given, generation after generation. */
export function aLine(
  halfTimes: readonly number[],
  facts: Partial<LineEvidence> = {},
): LineEvidence {
  return {
    id: 'line',
    code: 'TN-F1',
    strain: {
      ...aStrain(),
      ...{ id: 'tern', entryId: 'tern', seq: 1, receivedAt: at(0), corrected: false },
    },
    startedMs: storyStartMs,
    highestGeneration: halfTimes.length,
    aliveGeneration: halfTimes.length,
    lotsInStore: 1,
    running: 0,
    ferments: halfTimes.map((halfTime, generation) => {
      const { pitchedMs, ...rest } = aLineFerment(generation);
      return { ...rest, pitchedMs, readings: readingsWith(pitchedMs, halfTime) };
    }),
    ...facts,
  };
}
