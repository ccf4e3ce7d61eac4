import { studentTQuantile } from './betaFunctions.ts';
import { excessDegreesFromSg } from './gravity.ts';
import { type FermentSetting, type Foretold, housePace, type PastFerment } from './housePace.ts';
import { degreesAt, type PlausibleFerment, plausibleFerments } from './plausibleFerments.ts';
import { requireConfidence } from './refusal.ts';

export type Range = { low: number; mid: number; high: number };

const bandBases = ['published figures', 'pooled', 'own ferments'] as const;

export type FermentBand = {
  /** Gravity [SG] to expect at an hour since the pitch. */
  at: (hours: number) => Range;
  basis: (typeof bandBases)[number];
  pastFerments: number;
  confidence: number;
  originalGravitySg: number;
  halfTimeHours: Range;
  ratePerHour: Range;
  endGravitySg: Range;
  ferments: PlausibleFerment[];
};

/** From this many settled ferments their own figures outweigh the remembered ones: a judgement. */
const OWN_FERMENTS_NEEDED = 8;

/**
 * Gravity to expect at each hour of a ferment, from the settled ferments of its strain.
 *
 *   quantiles over plausible ferments of P(t) = OG - (OG - Pe) f(t; h, b)
 *
 * @param request  past ferments (may be none), the target's gravity [SG] and, where known, set
 *   temperature [C] and pitching rate [million/mL/P], and confidence [-] between 0 and 1
 * @returns the band, what it rests on, and the spread of each figure
 * @throws RangeError outside the bounds above
 *
 * The true gravity, each hour for itself; the error of a reading comes on top. With no past ferments it
 * rests on remembered figures and is wide. Source: own model on [ASBCYeast14]; idea of an interval round
 * settled ferments [Speers2003].
 */
export function expectedBand(request: {
  past: readonly PastFerment[];
  target: FermentSetting;
  confidence: number;
}): FermentBand {
  const { past, target, confidence } = request;
  requireConfidence('expectedBand', confidence);
  const original = excessDegreesFromSg(target.originalGravitySg);
  const pace = housePace(past, target);
  const ferments = plausibleFerments(pace, original);
  const share = (1 - confidence) / 2;
  return {
    at: (hours) => {
      const { low, mid, high } = rangeOf(
        ferments.map((ferment) => degreesAt(ferment, hours)),
        share,
      );
      return { low: 1 + low / 1000, mid: 1 + mid / 1000, high: 1 + high / 1000 };
    },
    basis: basisOf(past.length),
    pastFerments: past.length,
    confidence,
    originalGravitySg: target.originalGravitySg,
    halfTimeHours: exactRange(pace.lnHalfTime, share, Math.exp),
    ratePerHour: exactRange(pace.lnRate, share, Math.exp),
    // A high logit is a high attenuation and so a low gravity.
    endGravitySg: exactRange(
      { ...pace.logitAttenuation, centre: -pace.logitAttenuation.centre },
      share,
      (logit) => 1 + original / (1 + Math.exp(-logit)) / 1000,
    ),
    ferments,
  };
}

function basisOf(count: number): FermentBand['basis'] {
  if (count === 0) return 'published figures';
  return count < OWN_FERMENTS_NEEDED ? 'pooled' : 'own ferments';
}

function exactRange(figure: Foretold, share: number, scale: (value: number) => number): Range {
  const reach = -figure.scale * studentTQuantile(share, figure.degreesOfFreedom);
  return {
    low: scale(figure.centre - reach),
    mid: scale(figure.centre),
    high: scale(figure.centre + reach),
  };
}

function rangeOf(values: readonly number[], share: number): Range {
  // A typed array sorts numbers ten times as fast as a comparison.
  const sorted = Float64Array.from(values).sort();
  const at = (p: number) => sorted[Math.floor(p * sorted.length)] ?? NaN;
  return { low: at(share), mid: at(0.5), high: at(1 - share) };
}
