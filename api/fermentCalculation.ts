import { Hono } from 'hono';
import { fermentCalculation, fermentRequest } from '#shared/calculations/fermentCalculation.ts';
import { jsonSchema, type RouteDoc } from './apiDocument.ts';
import { jsonBody } from './validate.ts';

/** The sum about the gravities of one ferment, for anyone who asks. */
export function fermentCalculationRoutes() {
  return new Hono().post('/calculations/ferment', jsonBody(fermentRequest), (context) =>
    context.json(fermentCalculation(context.req.valid('json')), 200),
  );
}

export const fermentCalculationDocs: readonly RouteDoc[] = [
  {
    method: 'post',
    path: '/api/calculations/ferment',
    tag: 'Calculations',
    who: 'anyone',
    summary: 'The curve through the gravities of one ferment, with its figures and strength',
    description:
      'A four-parameter logistic by least squares (ASBC Yeast-14; Speers et al. 2003), asymmetric only where it clearly fits better (Reid et al. 2021). Under six readings over a fall of five degrees there is no curve: `kind` is "crossings", `why` says so, and times are read between readings, without standard errors. Hours count from the pitch. Readings out of order, twice at one hour, rising, before the pitch or in two units are dealt with, and `notes` says how.',
    request: jsonSchema(fermentRequest),
    example: {
      readings: [
        { hours: 2, gravitySg: 1.0415 },
        { hours: 12, gravitySg: 1.038 },
        { hours: 22, gravitySg: 1.0305 },
        { hours: 30, gravitySg: 1.0225 },
        { hours: 40, gravitySg: 1.0145 },
        { hours: 54, gravitySg: 1.011 },
        { hours: 70, gravitySg: 1.0102 },
      ],
      originalGravitySg: 1.042,
    },
    answers: {
      200: {
        description:
          '`kind`, `converged`, `why`, `form`; `parameters` (`initialGravitySg`, `endGravitySg`, `midpointHours`, `ratePerHour`, `asymmetry`), each {value, standardError}, or null; `residualSdDegrees`, `rSquared`; `lagHours` (tangent), `plainLagHours` (first two degrees), `halfTimeHours`, `greatestRateDegreesPerHour`, `hours1040to1020`, `timeToWithinOneDegreeHours`, `endGravitySg`, each {value, standardError} or null; `originalGravityFrom`; `attenuation` {apparentPercent, realPercent}, `abv` {ballingPercent, hmrcPercent}, from the original gravity to the last reading; `notes` {path, message}',
      },
    },
  },
];
