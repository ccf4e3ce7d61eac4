import { petitePercent } from '#shared/lots/petites.ts';
import { apparentAttenuation } from '#shared/science/attenuation.ts';
import { crossingHours } from '#shared/science/crossingTimes.ts';
import { wilsonInterval } from '#shared/science/proportionInterval.ts';
import type { LinePoint } from '#shared/views/lines.ts';
import type { Ranged } from '#shared/views/recorded.ts';
import { hourMs } from '../durations.ts';

type Amount = { amountL: number | null; amountKg: number | null };

/** What the log holds of one ferment of a line. */
export type LineFerment = {
  id: string;
  gyle: string;
  beer: string;
  originalGravitySg: number;
  pitchedMs: number;
  chilledMs: number | null;
  rackedMs: number | null;
  /** The highest pitched into it. */
  generation: number;
  pitches: readonly Amount[];
  crops: readonly Amount[];
  readings: readonly { happenedMs: number; gravitySg: number | null; cellsPerMl: number | null }[];
  /** The last stain of the first lot pitched, before it was pitched. */
  stain: { live: number; dead: number } | null;
  /** Of the first lot pitched, whenever the plate was read. */
  petites: { found: number; examined: number } | null;
};

/** Cells are still coming up from the bottom before; a judgement. */
const suspendedFromHours = 12;

/** Every measure of a ferment of a line, null where it was not taken. */
export function linePoint(ferment: LineFerment): LinePoint {
  const viabilityRange = viability(ferment.stain);
  const petiteRange =
    ferment.petites === null
      ? null
      : petitePercent(ferment.petites.found, ferment.petites.examined);
  return {
    fermentId: ferment.id,
    gyle: ferment.gyle,
    beer: ferment.beer,
    pitchedAt: new Date(ferment.pitchedMs).toISOString(),
    generation: ferment.generation,
    viabilityRange,
    petiteRange,
    viabilityPercent: viabilityRange?.value ?? null,
    petitePercent: petiteRange?.value ?? null,
    ...fallOf(ferment),
    cropRatio: cropRatio(ferment),
    suspendedMillionPerMl: suspended(ferment),
  };
}

function viability(stain: LineFerment['stain']): Ranged | null {
  if (stain === null) return null;
  const cells = stain.live + stain.dead;
  const { low, high } = wilsonInterval(stain.live, cells);
  return { value: (100 * stain.live) / cells, low: 100 * low, high: 100 * high };
}

/** By crossing times alone, so that old and new ferments are measured alike; once it is chilled. */
function fallOf({ originalGravitySg, pitchedMs, readings, ...ferment }: LineFerment) {
  const points = readings
    .flatMap(({ happenedMs, gravitySg }) =>
      gravitySg === null ? [] : [{ hours: (happenedMs - pitchedMs) / hourMs, gravitySg }],
    )
    .filter(({ hours }) => hours > 0)
    .sort((a, b) => a.hours - b.hours);
  const lastSg = points.at(-1)?.gravitySg;
  const isOver = ferment.chilledMs !== null || ferment.rackedMs !== null;
  if (!isOver || lastSg === undefined)
    return { halfTimeHours: null, apparentAttenuationPercent: null };
  const fromStart = [{ hours: 0, gravitySg: originalGravitySg }, ...points];
  return {
    halfTimeHours: crossingHours(fromStart, (originalGravitySg + lastSg) / 2) ?? null,
    apparentAttenuationPercent: 100 * apparentAttenuation(originalGravitySg, lastSg),
  };
}

function suspended({ readings, pitchedMs, chilledMs, rackedMs }: LineFerment): number | null {
  const fromMs = pitchedMs + suspendedFromHours * hourMs;
  const untilMs = chilledMs ?? rackedMs ?? Number.POSITIVE_INFINITY;
  const counts = readings.flatMap(({ happenedMs, cellsPerMl }) =>
    cellsPerMl === null || happenedMs < fromMs || happenedMs > untilMs ? [] : [cellsPerMl / 1e6],
  );
  return counts.length === 0 ? null : Math.max(...counts);
}

// Crop over pitch, only when all of it was measured in one unit.
function cropRatio({ crops, pitches }: LineFerment): number | null {
  for (const unit of ['amountL', 'amountKg'] as const) {
    const out = total(crops, unit);
    const into = total(pitches, unit);
    if (out !== null && into !== null && into > 0) return out / into;
  }
  return null;
}

function total(items: readonly Amount[], unit: keyof Amount): number | null {
  if (items.length === 0) return null;
  let sum = 0;
  for (const item of items) {
    const amount = item[unit];
    if (amount === null) return null;
    sum += amount;
  }
  return sum;
}
