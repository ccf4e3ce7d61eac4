import type { MeasureBounds } from '#shared/science/measureBounds.ts';
import type { LineMeasureKey } from '#shared/views/lines.ts';

/** A measure followed from generation to generation of a line. */
export type LineMeasure = {
  key: LineMeasureKey;
  name: string;
  unit: string;
  decimals: number;
  /** Which way is worse; null where neither is by itself. */
  worse: 'lower' | 'higher' | null;
  /** What it can be at the least and at the most; attenuation may pass 100 % where beer ends below water. */
  bounds: MeasureBounds;
  what: string;
};

export const lineMeasures: readonly LineMeasure[] = [
  {
    key: 'viabilityPercent',
    name: 'Viability at pitching',
    unit: '%',
    decimals: 1,
    worse: 'lower',
    bounds: { floor: 0, ceiling: 100 },
    what: 'Live cells by the last stain before the lot was pitched.',
  },
  {
    key: 'halfTimeHours',
    name: 'Half time',
    unit: 'h',
    decimals: 1,
    worse: 'higher',
    bounds: { floor: 0 },
    what: 'Hours from pitching until half of the fall in gravity is done, on straight lines between readings.',
  },
  {
    key: 'apparentAttenuationPercent',
    name: 'Apparent attenuation',
    unit: '%',
    decimals: 1,
    worse: 'lower',
    bounds: { floor: 0 },
    what: 'Share of the original gravity gone when the beer was racked.',
  },
  {
    key: 'cropRatio',
    name: 'Crop ratio',
    unit: 'times',
    decimals: 1,
    worse: null,
    bounds: { floor: 0 },
    what: 'Yeast cropped for each part pitched.',
  },
  {
    key: 'suspendedMillionPerMl',
    name: 'Cells in suspension',
    unit: 'million/mL',
    decimals: 0,
    worse: null,
    bounds: { floor: 0 },
    what: 'The greatest count in the beer from 12 hours after pitching until it was chilled.',
  },
  {
    key: 'petitePercent',
    name: 'Petites',
    unit: '%',
    decimals: 1,
    worse: 'higher',
    bounds: { floor: 0, ceiling: 100 },
    what: 'Petite colonies among those looked at, of the lot pitched.',
  },
];

export const lineMeasure = (key: LineMeasureKey): LineMeasure =>
  lineMeasures.find((measure) => measure.key === key) ?? unknown(key);

function unknown(key: string): never {
  throw new Error(`There is no measure ${key} of a line.`);
}
