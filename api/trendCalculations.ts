import { Hono } from 'hono';
import {
  controlChartCalculation,
  controlChartRequest,
} from '#shared/calculations/controlChartCalculation.ts';
import { trendCalculation, trendRequest } from '#shared/calculations/trendCalculation.ts';
import { jsonSchema, type RouteDoc } from './apiDocument.ts';
import { jsonBody } from './validate.ts';

/** Sums that tell a drift from noise, by the functions that judge a line. */
export function trendCalculationRoutes() {
  return new Hono()
    .post('/calculations/control-chart', jsonBody(controlChartRequest), (context) =>
      context.json(controlChartCalculation(context.req.valid('json')), 200),
    )
    .post('/calculations/trend', jsonBody(trendRequest), (context) =>
      context.json(trendCalculation(context.req.valid('json')), 200),
    );
}

export const trendCalculationDocs: readonly RouteDoc[] = [
  {
    method: 'post',
    path: '/api/calculations/control-chart',
    tag: 'Calculations',
    who: 'anyone',
    summary:
      'Individuals chart and EWMA of values in order: centre, limits, points out and by which rule',
    description:
      '`baseline` is how many of the first values set the limits, or a list of their places counted from 0; all of them when left out. `lambda` is the weight of the newest value (0.2). `centre` and `sigma`, given together, replace what the baseline gives. `floor` and `ceiling` are what the values can be at the least and at the most, such as 0 and 100 %: no limit is put beyond them. Limits as in the NIST/SEMATECH e-Handbook, 6.3.2.2 and 6.3.2.4: 3 sigma, sigma from the mean moving range over 1.128; steady EWMA limits of 3. Runs rules of Western Electric 1956 and Nelson 1984, from memory: the more rules, the more false alarms.',
    request: jsonSchema(controlChartRequest),
    example: { values: [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1] },
    answers: {
      200: {
        description:
          '`individuals`: `centre`, `sigma`, `lower`, `upper`, `meanMovingRange`, `movingRanges`, `movingRangeUpper`, `baselineCount`; `ewma`: `lambda`, `k`, `centre`, `sigma`, `lower`, `upper`, `points` {ewma, isOut}; in both `isAtFloor` and `isAtCeiling`, true where a bound stands in place of the limit; `out`: `index`, `value`, `rules` {rule, source}',
      },
    },
  },
  {
    method: 'post',
    path: '/api/calculations/trend',
    tag: 'Calculations',
    who: 'anyone',
    summary: 'Whether values rise or fall over time: Mann-Kendall test and Theil-Sen slope',
    description:
      'In any order; no two values at one time. Exact p for up to ten values without ties, else normal with continuity correction. Limits of the slope as in USEPA 2009, chapter 17.',
    request: jsonSchema(trendRequest),
    example: { times: [1, 2, 3, 4, 5, 6], values: [27.1, 26.4, 28.0, 28.9, 28.6, 30.2] },
    answers: {
      200: {
        description:
          '`values` (how many), `s`, `variance`, `z`, `tau`, `pValue` (two-sided), `method` (exact or normal), `slope` with `slopeLow` and `slopeHigh`, `intercept`',
      },
    },
  },
];
