import { serveStatic } from '@hono/node-server/serve-static';
import { Hono, type MiddlewareHandler } from 'hono';
import { DomainError } from '#shared/errors.ts';
import type { App } from './app.ts';
import { respondWithProblem } from './problem.ts';

const missing = () =>
  respondWithProblem(new DomainError('not_found', 'There is nothing at this address.'));

/** The interface and the built pages on one port: files as they are, any other path the one page. */
export function withPages(api: App, pagesFolder: string, log: MiddlewareHandler) {
  return new Hono()
    .use(log)
    .route('/', api)
    .get('/api/*', missing)
    .get(
      '/assets/*',
      serveStatic({
        root: pagesFolder,
        onFound: (_path, context) =>
          context.header('cache-control', 'public, max-age=31536000, immutable'),
      }),
    )
    .get('/assets/*', missing)
    .get('*', serveStatic({ root: pagesFolder }))
    .get('*', serveStatic({ root: pagesFolder, path: 'index.html' }))
    .all('*', missing);
}
