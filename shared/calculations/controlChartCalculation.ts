import * as z from 'zod/mini';
import { quantity, whole } from '#shared/fields.ts';
import { type IndividualsChart, individualsChart } from '#shared/science/controlChart.ts';
import { ewmaChart } from '#shared/science/ewmaChart.ts';
import { withinBounds } from '#shared/science/measureBounds.ts';
import { runsRuleSources, runsRules } from '#shared/science/runsRules.ts';
import { GREATEST, plainNumber, series } from './series.ts';

const mostValues = 500;
/** Weight of the newest value, and the width of the limits in standard deviations. */
const usualEwma = { lambda: 0.2, k: 3 } as const;

const place = whole('A place in the baseline, counted from 0,', { min: 0, max: mostValues - 1 });
const firstFew = whole('How many of the first values set the limits', { min: 2, max: mostValues });

/** Values in order; `baseline` is how many of the first set the limits, or a list of their places. */
export const controlChartRequest = z
  .strictObject({
    values: series('values', { least: 2, most: mostValues }),
    baseline: z.optional(
      z.union([firstFew, z.array(place).check(z.maxLength(mostValues))], {
        error:
          'baseline must be how many of the first values set the limits (2 or more), or a list of their places counted from 0',
      }),
    ),
    lambda: z.optional(
      quantity('lambda', '(the weight of the newest value)', { above: 0, max: 1 }),
    ),
    /** Known beforehand, in place of what the baseline gives. */
    centre: z.optional(plainNumber('centre')),
    sigma: z.optional(quantity('sigma', 'in the unit of the values', { above: 0, max: GREATEST })),
    /** What the values can be at the least and at the most: no limit goes further. */
    floor: z.optional(plainNumber('floor')),
    ceiling: z.optional(plainNumber('ceiling')),
  })
  .check((context) => {
    for (const fault of faults(context.value))
      context.issues.push({ code: 'custom', input: context.value, ...fault });
  });

type Request = z.output<typeof controlChartRequest>;
type Fault = { path: (string | number)[]; message: string };

function faults(request: Request): Fault[] {
  const { values, baseline, centre, sigma } = request;
  if ((centre === undefined) !== (sigma === undefined))
    return [
      {
        path: [centre === undefined ? 'centre' : 'sigma'],
        message: 'Give centre and sigma together, or neither',
      },
    ];
  const beyondBounds = boundFaults(request);
  if (beyondBounds.length > 0) return beyondBounds;
  const count = values.length;
  // Too few, and said so already.
  if (count < 2 || (typeof baseline === 'number' && baseline < 2)) return [];
  if (typeof baseline === 'number' && baseline > count)
    return [{ path: ['baseline'], message: `There are only ${count} values` }];
  const places = placesOf(request);
  if (typeof baseline === 'object') {
    const beyond = baseline.flatMap((each, index): Fault[] =>
      each < count
        ? []
        : [{ path: ['baseline', index], message: `There is no value at ${each}: count from 0` }],
    );
    if (beyond.length > 0) return beyond;
    if (new Set(places).size < 2)
      return [{ path: ['baseline'], message: 'Two different places at least set the limits' }];
  }
  if (sigma === undefined && individualsChart(values, places).sigma === 0)
    return [
      {
        path: ['values'],
        message: 'The values that set the limits are all alike: no limits follow',
      },
    ];
  return [];
}

function boundFaults({ values, floor, ceiling }: Request): Fault[] {
  if (floor !== undefined && ceiling !== undefined && floor >= ceiling)
    return [{ path: ['ceiling'], message: 'ceiling must be above floor' }];
  return values.flatMap((value, index): Fault[] => {
    if (floor !== undefined && value < floor)
      return [{ path: ['values', index], message: `${value} is below the floor of ${floor}` }];
    if (ceiling !== undefined && value > ceiling)
      return [{ path: ['values', index], message: `${value} is above the ceiling of ${ceiling}` }];
    return [];
  });
}

function placesOf({ values, baseline }: Request): number[] {
  if (typeof baseline === 'object') return baseline;
  return Array.from({ length: baseline ?? values.length }, (_, index) => index);
}

type AtBounds = { isAtFloor: boolean; isAtCeiling: boolean };

type ControlChartReply = {
  individuals: IndividualsChart & AtBounds;
  ewma: {
    lambda: number;
    k: number;
    centre: number;
    sigma: number;
    lower: number;
    upper: number;
    points: { ewma: number; isOut: boolean }[];
  } & AtBounds;
  /** Every value that a rule speaks of, with the rules and who published them. */
  out: { index: number; value: number; rules: { rule: string; source: string }[] }[];
};

/** Individuals chart and EWMA of a list of values, and which values are out by which rule. */
export function controlChartCalculation(request: Request): ControlChartReply {
  const { values, lambda = usualEwma.lambda } = request;
  const own = individualsChart(values, placesOf(request));
  const centre = request.centre ?? own.centre;
  const sigma = request.sigma ?? own.sigma;
  const individuals = withinBounds(
    { ...own, centre, sigma, lower: centre - 3 * sigma, upper: centre + 3 * sigma },
    request,
  );
  const design = { centre, sigma, lambda, k: usualEwma.k };
  const points = ewmaChart(values, { ...design, limits: 'steady' });
  const [{ lower, upper } = { lower: centre, upper: centre }] = points;
  const averageLimits = withinBounds({ lower, upper }, request);
  const signals = [
    ...runsRuleSources.flatMap((source) => runsRules(values, individuals, source)),
    ...points.flatMap(({ side }, index) =>
      side === undefined
        ? []
        : [{ index, rule: `moving average ${side} its limit`, source: 'EWMA' }],
    ),
    ...individuals.movingRanges.flatMap((range, i) =>
      range > individuals.movingRangeUpper
        ? [{ index: i + 1, rule: 'moving range above its limit', source: 'individuals chart' }]
        : [],
    ),
  ];
  return {
    individuals,
    ewma: {
      ...design,
      ...averageLimits,
      points: points.map(({ ewma, side }) => ({ ewma, isOut: side !== undefined })),
    },
    out: values.flatMap((value, index) => {
      const rules = signals
        .filter((signal) => signal.index === index)
        .map(({ rule, source }) => ({ rule, source }));
      return rules.length === 0 ? [] : [{ index, value, rules }];
    }),
  };
}
