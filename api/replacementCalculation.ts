import { Hono } from 'hono';
import {
  replacementCalculation,
  replacementRequest,
} from '#shared/calculations/replacementCalculation.ts';
import { jsonSchema, type RouteDoc } from './apiDocument.ts';
import { jsonBody } from './validate.ts';

/** When to renew a culture, by its costs: the same function as the plan's. */
export function replacementCalculationRoutes() {
  return new Hono().post('/calculations/replacement', jsonBody(replacementRequest), (context) =>
    context.json(replacementCalculation(context.req.valid('json')), 200),
  );
}

export const replacementCalculationDocs: readonly RouteDoc[] = [
  {
    method: 'post',
    path: '/api/calculations/replacement',
    tag: 'Calculations',
    who: 'anyone',
    summary: 'Cost per brew of renewing a culture after every number of brews, and the cheapest',
    description:
      '`failureChance` lists the chance that the 1st, 2nd, 3rd … brew from a culture is lost, those before it having been sound; as many policies are looked at as there are chances. `afterLoss`: `carry on` (a lost brew is only a lost brew; taken when left out) or `renew` (it also ends the culture). Costs left out are 0. By the renewal-reward theorem (Ross 1996, 3.6); with `carry on`: F/N + c + a (N − 1)/2 + L × mean chance. Every policy is tried.',
    request: jsonSchema(replacementRequest),
    example: {
      costs: { freshCulture: 180, handlingPerBrew: 25, extraPerGeneration: 3.6, lostBrew: 1900 },
      failureChance: [0.002, 0.002, 0.003, 0.004, 0.005, 0.007, 0.009, 0.012, 0.016, 0.021],
      afterLoss: 'renew',
    },
    answers: {
      200: {
        description:
          '`policies`: `brews`, `costPerBrew`, `expectedBrews`; `best`, and `isAtEnd` when it is the longest looked at; `sensitivity`: for each `input` at half and one and a half times (`factor`), the `best` then, and `costOfKeeping` to the present best, per brew; `warnings`',
      },
    },
  },
];
