import { Hono } from 'hono';
import type { RouteDoc } from './apiDocument.ts';
import { apiDocument } from './apiDocument.ts';
import { plainAccess } from './auth/access.ts';
import { accountRoutes } from './auth/account.ts';
import { deviceTokenRoutes } from './auth/deviceTokens.ts';
import { peopleDocs } from './auth/docs.ts';
import { assertComplete, gate, routeTable, rowOf } from './auth/gate.ts';
import { peopleRoutes } from './auth/people.ts';
import { sessionRoutes } from './auth/session.ts';
import { calculationDocs, calculationRoutes } from './calculations.ts';
import { calendarDocs, calendarRoutes } from './calendar.ts';
import type { Services } from './context.ts';
import { docsPage, docsStyle } from './docsPage.ts';
import { entryDocs, entryRoutes } from './entries.ts';
import { exportDocs, exportRoutes } from './exports.ts';
import { fermentCalculationDocs, fermentCalculationRoutes } from './fermentCalculation.ts';
import { guard, secureHeaders } from './guard.ts';
import { healthDocs, healthRoutes } from './health.ts';
import { importDocs, importRoutes } from './imports.ts';
import { planDocs, planRoutes } from './plan.ts';
import { respondWithProblem } from './problem.ts';
import { recordDocs, recordRoutes } from './records.ts';
import {
  replacementCalculationDocs,
  replacementCalculationRoutes,
} from './replacementCalculation.ts';
import { screenDocs, screenRoutes } from './screens.ts';
import { sensorDocs, sensorRoutes } from './sensorReadings.ts';
import { traceDocs, traceRoutes } from './trace.ts';
import { trendCalculationDocs, trendCalculationRoutes } from './trendCalculations.ts';
import { upkeepDocs, upkeepRoutes } from './upkeep/routes.ts';

export const version = '0.1.0';

const documentDocs = [
  served('/api/openapi.json', 'This document'),
  served('/api/docs', 'This document as a page to read'),
  served('/api/docs.css', 'How that page looks'),
  served('/api/problems', 'What each problem means'),
];

function served(path: string, summary: string): RouteDoc {
  const answers = { 200: { description: summary } };
  return { method: 'get', path, tag: 'Service', who: 'anyone', summary, answers };
}

export const apiRoutes: readonly RouteDoc[] = [
  ...entryDocs,
  ...screenDocs,
  ...planDocs,
  ...calendarDocs,
  ...recordDocs,
  ...traceDocs,
  ...sensorDocs,
  ...importDocs,
  ...exportDocs,
  ...calculationDocs,
  ...trendCalculationDocs,
  ...replacementCalculationDocs,
  ...fermentCalculationDocs,
  ...peopleDocs,
  ...upkeepDocs,
  ...healthDocs,
  ...documentDocs,
];

const table = routeTable(apiRoutes);

/**
 * The whole interface on one database and one clock; nothing here listens or reads settings.
 * @throws Error when a route does not say who may call it
 */
export function createApp(services: Services) {
  const app = routesOf(services);
  assertComplete(app.routes, table);
  return app;
}

function routesOf(services: Services) {
  const { isOwnHost } = { ...plainAccess, ...services.access };
  return new Hono()
    .use(secureHeaders)
    .use(guard(isOwnHost, (context) => rowOf(context, table)))
    .use(gate(services, table))
    .onError((error) => respondWithProblem(error))
    .route('/', healthRoutes(services))
    .route('/api', entryRoutes(services))
    .route('/api', screenRoutes(services))
    .route('/api', planRoutes(services))
    .route('/api', calendarRoutes(services))
    .route('/api', recordRoutes(services))
    .route('/api', traceRoutes(services))
    .route('/api', sensorRoutes(services))
    .route('/api', importRoutes(services))
    .route('/api', exportRoutes(services))
    .route('/api', calculationRoutes())
    .route('/api', sessionRoutes(services))
    .route('/api', accountRoutes(services))
    .route('/api', peopleRoutes(services))
    .route('/api', deviceTokenRoutes(services))
    .route('/api', trendCalculationRoutes())
    .route('/api', replacementCalculationRoutes())
    .route('/api', fermentCalculationRoutes())
    .route('/api', upkeepRoutes(services))
    .get('/api/openapi.json', (context) => context.json(apiDocument(apiRoutes, version), 200))
    .get('/api/docs', (context) => context.html(docsPage(apiRoutes), 200))
    .get('/api/docs.css', (context) =>
      context.body(docsStyle, 200, { 'content-type': 'text/css; charset=utf-8' }),
    )
    .get('/api/problems', (context) => context.redirect('/api/docs#problems', 302));
}

export type App = ReturnType<typeof createApp>;
