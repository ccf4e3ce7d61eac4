import { Hono } from 'hono';
import type { RouteDoc } from './apiDocument.ts';
import { apiDocument } from './apiDocument.ts';
import { calculationDocs, calculationRoutes } from './calculations.ts';
import type { Services } from './context.ts';
import { docsPage, docsStyle } from './docsPage.ts';
import { entryDocs, entryRoutes } from './entries.ts';
import { exportDocs, exportRoutes } from './exports.ts';
import { fermentCalculationDocs, fermentCalculationRoutes } from './fermentCalculation.ts';
import { healthDocs, healthRoutes } from './health.ts';
import { importDocs, importRoutes } from './imports.ts';
import { planDocs, planRoutes } from './plan.ts';
import { respondWithProblem } from './problem.ts';
import { recordDocs, recordRoutes } from './records.ts';
import { screenDocs, screenRoutes } from './screens.ts';
import { traceDocs, traceRoutes } from './trace.ts';
import { trendCalculationDocs, trendCalculationRoutes } from './trendCalculations.ts';

export const version = '0.1.0';

export const apiRoutes: readonly RouteDoc[] = [
  ...entryDocs,
  ...screenDocs,
  ...planDocs,
  ...recordDocs,
  ...traceDocs,
  ...importDocs,
  ...exportDocs,
  ...calculationDocs,
  ...trendCalculationDocs,
  ...fermentCalculationDocs,
  ...healthDocs,
];

const contentPolicy = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "connect-src 'self'",
  "manifest-src 'self'",
  "worker-src 'self'",
  "form-action 'self'",
  "base-uri 'none'",
  "frame-ancestors 'none'",
].join('; ');

/** The whole interface on one database and one clock; nothing here listens or reads settings. */
export function createApp(services: Services) {
  return new Hono()
    .use(async (context, next) => {
      await next();
      const { headers } = context.res;
      headers.set('content-security-policy', contentPolicy);
      headers.set('x-content-type-options', 'nosniff');
      headers.set('referrer-policy', 'no-referrer');
      headers.set('cross-origin-opener-policy', 'same-origin');
      headers.set('cross-origin-resource-policy', 'same-origin');
      if (!headers.has('cache-control')) headers.set('cache-control', 'no-store');
    })
    .onError((error) => respondWithProblem(error))
    .route('/', healthRoutes(services))
    .route('/api', entryRoutes(services))
    .route('/api', screenRoutes(services))
    .route('/api', planRoutes(services))
    .route('/api', recordRoutes(services))
    .route('/api', traceRoutes(services))
    .route('/api', importRoutes(services))
    .route('/api', exportRoutes(services))
    .route('/api', calculationRoutes())
    .route('/api', trendCalculationRoutes())
    .route('/api', fermentCalculationRoutes())
    .get('/api/openapi.json', (context) => context.json(apiDocument(apiRoutes, version), 200))
    .get('/api/docs', (context) => context.html(docsPage(apiRoutes), 200))
    .get('/api/docs.css', (context) =>
      context.body(docsStyle, 200, { 'content-type': 'text/css; charset=utf-8' }),
    )
    .get('/api/problems', (context) => context.redirect('/api/docs#problems', 302));
}

export type App = ReturnType<typeof createApp>;
