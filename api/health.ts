import { Hono } from 'hono';
import type { RouteDoc } from './apiDocument.ts';
import type { Services } from './context.ts';

export function healthRoutes({ database }: Pick<Services, 'database'>) {
  return new Hono()
    .get('/healthz', (context) => context.json({ ok: true }, 200))
    .get('/readyz', async (context) => {
      try {
        await database.execute('SELECT seq FROM journal ORDER BY seq DESC LIMIT 1');
        return context.json({ ready: true, missing: [] }, 200);
      } catch {
        return context.json({ ready: false, missing: ['database'] }, 503);
      }
    });
}

export const healthDocs: readonly RouteDoc[] = [
  {
    method: 'get',
    path: '/healthz',
    tag: 'Service',
    summary: 'The process answers',
    answers: { 200: { description: '`{ "ok": true }`' } },
  },
  {
    method: 'get',
    path: '/readyz',
    tag: 'Service',
    summary: 'The log can be read',
    answers: { 200: { description: 'Ready' }, 503: { description: 'What is missing' } },
  },
];
