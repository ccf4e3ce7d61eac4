import { Hono } from 'hono';
import { countCalculation, countRequest } from '#shared/calculations/countCalculation.ts';
import { gravityCalculation, gravityRequest } from '#shared/calculations/gravityCalculation.ts';
import { pitchCalculation, pitchRequest } from '#shared/calculations/pitchCalculation.ts';
import {
  viabilityCalculation,
  viabilityRequest,
} from '#shared/calculations/viabilityCalculation.ts';
import { jsonSchema, type RouteDoc } from './apiDocument.ts';
import { jsonBody } from './validate.ts';

/** Sums without state: the same functions the pages use, for anyone who asks. */
export function calculationRoutes() {
  return new Hono()
    .post('/calculations/count', jsonBody(countRequest), (context) =>
      context.json(countCalculation(context.req.valid('json')), 200),
    )
    .post('/calculations/viability', jsonBody(viabilityRequest), (context) =>
      context.json(viabilityCalculation(context.req.valid('json')), 200),
    )
    .post('/calculations/pitch', jsonBody(pitchRequest), (context) =>
      context.json(pitchCalculation(context.req.valid('json')), 200),
    )
    .post('/calculations/gravity', jsonBody(gravityRequest), (context) =>
      context.json(gravityCalculation(context.req.valid('json')), 200),
    );
}

export const calculationDocs: readonly RouteDoc[] = [
  {
    method: 'post',
    path: '/api/calculations/count',
    tag: 'Calculations',
    summary: 'Cells per mL from a chamber count, with its 95 % range',
    description:
      'Dilution factor is parts final to parts sample, any stain included; for a weighed sample, mL final per gram, and the answer is per gram. The range holds chance (exact Poisson), chamber filling and pipetting (Berkson, Magath & Hurn 1939, from memory; editable as `chamberCv`, `pipettingCv`), and the spread between fillings where there are several.',
    request: jsonSchema(countRequest),
    example: {
      squares: [38, 41, 35, 37, 36],
      squareAreaMm2: 0.04,
      depthMm: 0.1,
      dilutionFactor: 100,
    },
    answers: {
      200: {
        description:
          '`cellsPerMl`, `low`, `high`; `countingOnly` {low, high} for chance alone; `logSd`; `cellsCounted`, `squaresCounted`; `budget`: the share of each error; `dispersion` {statistic, degreesOfFreedom, pValue, clumped} or null; `sides` or null; `cellsStillToCount` or null; `warnings`',
      },
    },
  },
  {
    method: 'post',
    path: '/api/calculations/viability',
    tag: 'Calculations',
    summary: 'Percent alive from a stain, with its Wilson 95 % range',
    request: jsonSchema(viabilityRequest),
    example: { live: 380, dead: 20, stain: 'methylene blue' },
    answers: {
      200: {
        description:
          '`percent`, `low`, `high` (0 to 100), `cellsCounted`, `validity` ("valid", or "at or below" where the stain reads too high), `floorPercent`, `note`',
      },
    },
  },
  {
    method: 'post',
    path: '/api/calculations/pitch',
    tag: 'Calculations',
    summary: 'How much of which lot to pitch, with its 95 % range',
    description:
      'Lots are used in the order given, each up to what is available. `relativeError` is half the 95 % range as a fraction (0.2 is ± 20 %); better is the `count` itself. `hoursSince` and `tempC` (4 °C when left out) reckon the loss in store since the stain.',
    request: jsonSchema(pitchRequest),
    example: {
      wort: { volumeL: 1636.59, gravitySg: 1.04 },
      rateMillionPerMlPerPlato: 0.75,
      lots: [
        {
          id: 'TN-412A',
          cellsPerMl: 1.2e9,
          relativeError: 0.15,
          live: 376,
          dead: 24,
          stain: 'methylene blue',
          availableL: 20,
        },
      ],
    },
    answers: {
      200: {
        description:
          '`viableCellsNeeded`, `cellsPerMlNeeded`, `gravityPlato`; `lots`: `amount`, `low`, `high` in `unit` (L or kg), `leftAfter`, `share`, `viableCells`, `overdrawn`, `weak`; `shortage` {cells, fraction} or null; `achieved` rate with range; `chanceBelow` 0.8 and 0.9 of the target; `narrowing`: what one more measurement would do; `why`: the steps of the sum; `warnings`',
      },
    },
  },
  {
    method: 'post',
    path: '/api/calculations/gravity',
    tag: 'Calculations',
    summary: 'One gravity in SG, °P and degrees of excess gravity',
    description: 'Give one of the three. 1040 given as SG is understood as 1.040.',
    request: jsonSchema(gravityRequest),
    example: { gravitySg: 1.04 },
    answers: { 200: { description: '`gravitySg`, `gravityPlato`, `excessDegrees`' } },
  },
];
