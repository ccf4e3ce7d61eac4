import type { LinePoint } from '#shared/views.ts';

/** A measure followed from generation to generation of a line. */
export type LineMeasure = {
  key: 'viabilityPercent' | 'halfTimeHours' | 'apparentAttenuationPercent' | 'cropRatio';
  name: string;
  /** For the head of a column. */
  short: string;
  unit: string;
  decimals: number;
  /** Which way is worse; null where neither is. */
  worse: 'lower' | 'higher' | null;
  what: string;
};

export const lineMeasures: readonly LineMeasure[] = [
  {
    key: 'viabilityPercent',
    name: 'Viability at pitching',
    short: 'Viability, %',
    unit: '%',
    decimals: 1,
    worse: 'lower',
    what: 'Live cells by the last stain before the lot was pitched.',
  },
  {
    key: 'halfTimeHours',
    name: 'Half time',
    short: 'Half time, h',
    unit: 'h',
    decimals: 1,
    worse: 'higher',
    what: 'Hours from pitching until half of the fall in gravity is done.',
  },
  {
    key: 'apparentAttenuationPercent',
    name: 'Apparent attenuation',
    short: 'Attenuation, %',
    unit: '%',
    decimals: 1,
    worse: 'lower',
    what: 'Share of the original gravity gone when the beer was racked.',
  },
  {
    key: 'cropRatio',
    name: 'Crop ratio',
    short: 'Crop ratio',
    unit: 'times',
    decimals: 1,
    worse: null,
    what: 'Yeast cropped for each part pitched.',
  },
];

export type MeasuredPoint = { generation: number; value: number; gyle: string };

/** The ferments of a line for which a measure is known, by generation. */
export function measuredPoints(
  points: readonly LinePoint[],
  measure: LineMeasure,
): MeasuredPoint[] {
  return points
    .flatMap((point) => {
      const value = point[measure.key];
      return value === null ? [] : [{ generation: point.generation, value, gyle: point.gyle }];
    })
    .toSorted((a, b) => a.generation - b.generation);
}

/** The middle value of a list; undefined of an empty one. */
export function middleValue(values: readonly number[]): number | undefined {
  const ordered = values.toSorted((a, b) => a - b);
  const upper = ordered[Math.floor(ordered.length / 2)];
  const lower = ordered[Math.ceil(ordered.length / 2) - 1];
  return upper === undefined || lower === undefined ? undefined : (lower + upper) / 2;
}

export function generationMiddles(points: readonly MeasuredPoint[]): { x: number; y: number }[] {
  const generations = [...new Set(points.map((point) => point.generation))];
  return generations.flatMap((generation) => {
    const values = points.filter((point) => point.generation === generation);
    const y = middleValue(values.map((point) => point.value));
    return y === undefined ? [] : [{ x: generation, y }];
  });
}

/** True when a value lies on the worse side of a limit. */
export function isBeyond(value: number, measure: LineMeasure, limit: number | null): boolean {
  if (limit === null || measure.worse === null) return false;
  return measure.worse === 'lower' ? value < limit : value > limit;
}
