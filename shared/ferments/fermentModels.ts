import { expectedBand, type FermentBand } from '#shared/science/fermentBand.ts';
import { type FermentCurve, fitFermentCurve } from '#shared/science/fermentCurve.ts';
import type { GravityReading } from '#shared/science/fermentReadings.ts';
import type { FlagLine } from '#shared/science/flagLine.ts';
import type { FermentSetting, PastFerment } from '#shared/science/housePace.ts';
import { usualFlagLine } from '#shared/science/slowFerment.ts';
import { type HousePast, housePast, type PastCandidate } from './housePast.ts';

export type BandQuestion = { past: readonly PastFerment[]; target: FermentSetting };

/**
 * The costly sums about ferments, each a pure function of its question, so that whoever asks again and
 * again may hand in ones that remember their answers.
 */
export type FermentModels = {
  curve: (question: {
    readings: readonly GravityReading[];
    originalGravitySg: number;
  }) => FermentCurve;
  past: (question: { candidates: readonly PastCandidate[]; generation: number }) => HousePast;
  band: (question: BandQuestion) => FermentBand;
  line: (question: BandQuestion) => FlagLine;
};

/** Share of sound ferments expected within the band at each hour. */
const bandConfidence = 0.95;

const band = (question: BandQuestion) => expectedBand({ ...question, confidence: bandConfidence });

/** The sums themselves, worked out anew at each question. */
export const fermentModels: FermentModels = {
  curve: ({ readings, originalGravitySg }) => fitFermentCurve(readings, { originalGravitySg }),
  past: housePast,
  band,
  line: (question) => usualFlagLine(band(question)),
};
