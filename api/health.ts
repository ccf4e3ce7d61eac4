import { Hono } from 'hono';
import { headOfJournal } from '#db/journal/chain.ts';
import type { RouteDoc } from './apiDocument.ts';
import type { Services } from './context.ts';

export function healthRoutes({ database, upkeep }: Pick<Services, 'database' | 'upkeep'>) {
  const canBeRead = () =>
    headOfJournal(database).then(
      () => true,
      () => false,
    );
  return new Hono()
    .get('/healthz', (context) => context.json({ ok: true }, 200))
    .get('/readyz', async (context) => {
      const missing = (await canBeRead()) ? (upkeep?.warnings() ?? []) : (['database'] as const);
      const isReady = missing.every((code) => !stopsWork.has(code));
      return context.json({ ready: isReady, missing }, isReady ? 200 : 503);
    });
}

/** What keeps the log from being read or written; a late backup does not. */
const stopsWork: ReadonlySet<string> = new Set(['database', 'disk', 'clock', 'readonly', 'chain']);

export const healthDocs: readonly RouteDoc[] = [
  {
    method: 'get',
    path: '/healthz',
    tag: 'Service',
    who: 'anyone',
    summary: 'The process answers',
    answers: { 200: { description: '`{ "ok": true }`' } },
  },
  {
    method: 'get',
    path: '/readyz',
    tag: 'Service',
    who: 'anyone',
    summary: 'The log can be read and written',
    description:
      '`missing` lists in codes what someone should look after: database, disk, clock, readonly and chain stop the work; backup, second_place, mirror and drill do not yet.',
    answers: { 200: { description: 'Ready' }, 503: { description: 'What is missing' } },
  },
];
