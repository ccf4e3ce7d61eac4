import { Hono } from 'hono';
import { blendCalculation, blendRequest } from '#shared/calculations/blendCalculation.ts';
import { countCalculation, countRequest } from '#shared/calculations/countCalculation.ts';
import { gravityCalculation, gravityRequest } from '#shared/calculations/gravityCalculation.ts';
import { pitchCalculation, pitchRequest } from '#shared/calculations/pitchCalculation.ts';
import { plateCalculation, plateRequest } from '#shared/calculations/plateCalculation.ts';
import { storageCalculation, storageRequest } from '#shared/calculations/storageCalculation.ts';
import {
  viabilityCalculation,
  viabilityRequest,
} from '#shared/calculations/viabilityCalculation.ts';
import { DomainError } from '#shared/errors.ts';
import { jsonSchema, type RouteDoc } from './apiDocument.ts';
import { jsonBody } from './validate.ts';

/** Sums without state: the same functions the pages use, for anyone who asks. */
export function calculationRoutes() {
  return new Hono()
    .post('/calculations/count', jsonBody(countRequest), (context) =>
      context.json(workedOut(countCalculation, context.req.valid('json')), 200),
    )
    .post('/calculations/viability', jsonBody(viabilityRequest), (context) =>
      context.json(workedOut(viabilityCalculation, context.req.valid('json')), 200),
    )
    .post('/calculations/storage', jsonBody(storageRequest), (context) =>
      context.json(workedOut(storageCalculation, context.req.valid('json')), 200),
    )
    .post('/calculations/pitch', jsonBody(pitchRequest), (context) =>
      context.json(workedOut(pitchCalculation, context.req.valid('json')), 200),
    )
    .post('/calculations/blend', jsonBody(blendRequest), (context) =>
      context.json(workedOut(blendCalculation, context.req.valid('json')), 200),
    )
    .post('/calculations/plate', jsonBody(plateRequest), (context) =>
      context.json(workedOut(plateCalculation, context.req.valid('json')), 200),
    )
    .post('/calculations/gravity', jsonBody(gravityRequest), (context) =>
      context.json(workedOut(gravityCalculation, context.req.valid('json')), 200),
    );
}

/** A figure that passes every check of its own and still cannot be reckoned with is said, not a fault. */
function workedOut<Q, A>(calculation: (request: Q) => A, request: Q): A {
  try {
    return calculation(request);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    const [, said = error.message] = /^\w+: (.*)$/.exec(error.message) ?? [];
    throw new DomainError('invalid', `These figures cannot be reckoned with: ${said}.`);
  }
}

export const calculationDocs: readonly RouteDoc[] = [
  {
    method: 'post',
    path: '/api/calculations/count',
    tag: 'Calculations',
    who: 'anyone',
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
    who: 'anyone',
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
    path: '/api/calculations/storage',
    tag: 'Calculations',
    who: 'anyone',
    summary: 'The viability to expect after a time in store: a prediction, never a measurement',
    description:
      'First-order loss of the living, hours weighed by Q10 3.15 so that a warm weekend and a cold week compare; fitted to three temperatures of one lager strain (McCaig & Bendiak 1985), within a factor of four. Give `lossPerDay` and `lossLogSd` to use your own: a lot’s standing tells what was learned, as `learned.storageLoss.rate`.',
    request: jsonSchema(storageRequest),
    example: {
      live: 380,
      dead: 20,
      stain: 'methylene blue',
      history: [
        { hours: 60, tempC: 3 },
        { hours: 12, tempC: 14 },
      ],
      limitPercent: 90,
    },
    answers: {
      200: {
        description:
          '`predicted` (always true), `percent`, `low`, `high`, `atMost`, `equivalentDays` at 1 °C, `survival` {fraction, low, high}, `stainAgain` (the range lies on both sides of the limit), `warnings`',
      },
    },
  },
  {
    method: 'post',
    path: '/api/calculations/pitch',
    tag: 'Calculations',
    who: 'anyone',
    summary: 'How much of which lot to pitch, with its 95 % range',
    description:
      'Lots are used in the order given, each up to what is available. `relativeError` is half the 95 % range as a fraction (0.2 is ± 20 %); better is the `count` itself. A lot nobody counted may be given as `fallback` or `spunPercent`, one nobody stained without a viability: both are guesses, and said. `hoursSince` and `tempC` (4 °C when left out) reckon the loss in store since the stain. With `useL` or `useKg` for every lot it answers the other way round: the rate those amounts come to. `slurryCorrection` takes a bias found in the FV into the sum.',
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
          '`viableCellsNeeded`, `cellsPerMlNeeded`, `gravityPlato`; `lots`: `amount`, `low`, `high` in `unit` (L or kg; amount null where the yeast is to be rejected, high null where only the least amount can be told), `leftAfter`, `share`, `viableCells`, `overdrawn`, `weak`; `shortage` {cells, fraction} or null; `achieved` rate with range, `atMost` when a viability was only an upper limit; `beerInYeast`: what the beer in the yeast does to the wort; `chanceBelow` 0.8 and 0.9 of the target; `narrowing`: what one more measurement would do; `why`: the steps of the sum; `warnings`',
      },
    },
  },
  {
    method: 'post',
    path: '/api/calculations/blend',
    tag: 'Calculations',
    who: 'anyone',
    summary: 'What a blend of lots holds, weighted by the cells of each',
    description:
      'Each lot as for a pitch, with `useL` or `useKg`: how much of it goes in. All are measured, or all weighed.',
    request: jsonSchema(blendRequest),
    example: {
      lots: [
        { id: 'TN-412A', cellsPerMl: 1.2e9, relativeError: 0.15, live: 376, dead: 24, useL: 8 },
        { id: 'TN-415A', cellsPerMl: 0.9e9, relativeError: 0.2, live: 190, dead: 10, useL: 6 },
      ],
    },
    answers: {
      200: {
        description:
          '`amount` in `unit`, `cellsPer` (mL or g) and `viabilityPercent` with 95 % ranges, `viabilityAtMost`, `warnings`',
      },
    },
  },
  {
    method: 'post',
    path: '/api/calculations/plate',
    tag: 'Calculations',
    who: 'anyone',
    summary: 'What a plate says, with exact 95 % limits',
    description:
      'With `cellsPlated`: colonies per million cells (Garwood 1936). With `ofColonies`: the share of colonies, such as petites, in a hundred (Clopper & Pearson 1934). None found is given as an upper limit.',
    request: jsonSchema(plateRequest),
    example: { colonies: 0, cellsPlated: 3e6 },
    answers: { 200: { description: '`per`, `value`, `low`, `high`, `onlyUpperLimit`' } },
  },
  {
    method: 'post',
    path: '/api/calculations/gravity',
    tag: 'Calculations',
    who: 'anyone',
    summary: 'One gravity in SG, °P and degrees of excess gravity',
    description: 'Give one of the three. 1040 given as SG is understood as 1.040.',
    request: jsonSchema(gravityRequest),
    example: { gravitySg: 1.04 },
    answers: { 200: { description: '`gravitySg`, `gravityPlato`, `excessDegrees`' } },
  },
];
