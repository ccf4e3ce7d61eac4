import type { MiddlewareHandler } from 'hono';
import { matchedRoutes } from 'hono/route';
import type { Log } from './log.ts';

/**
 * Logs every answer by its route as it is written, never by the address that was asked for: an
 * address may hold an id or a key. The request's own id goes out with the answer.
 */
export function requestLog(log: Log, newId: () => string): MiddlewareHandler {
  return async (context, next) => {
    const started = performance.now();
    const id = newId();
    await next();
    const { headers, status } = context.res;
    headers.set('x-request-id', id);
    const route = matchedRoutes(context).findLast(({ method }) => method !== 'ALL');
    log(status >= 500 ? 'error' : 'info', 'request', {
      id,
      method: context.req.method,
      route: route?.path ?? null,
      status,
      ms: Math.round(performance.now() - started),
    });
  };
}
