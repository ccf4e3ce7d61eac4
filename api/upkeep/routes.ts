import { Hono } from 'hono';
import { DomainError } from '#shared/errors.ts';
import type { RouteDoc } from '../apiDocument.ts';
import { readers } from '../auth/who.ts';
import type { Services } from '../context.ts';

export function upkeepRoutes({ database, upkeep, now }: Services) {
  return new Hono()
    .get('/upkeep', (context) => {
      const stop = database.fault();
      const state = upkeep?.state();
      return context.json(
        {
          at: new Date(now()).toISOString(),
          warnings: upkeep?.warnings() ?? [],
          stop: stop ?? null,
          lastBackupAt: momentOf(state?.backup.last?.madeMs),
          backupFailed: state?.backup.failed?.why ?? null,
          backupEveryHours: state?.backup.everyHours ?? 0,
          lastDrillAt: momentOf(state?.drill.passedMs),
          lastCheckAt: momentOf(state?.check.passedMs),
          firstBad: state?.check.firstBad ?? null,
        },
        200,
      );
    })
    .post('/upkeep/backups', async (context) => {
      if (upkeep === undefined)
        throw new DomainError('unavailable', 'This log is not backed up from here.');
      const { manifest } = await upkeep.backUp('asked');
      const { madeMs, entries, head, sha256, bytes } = manifest;
      return context.json({ at: momentOf(madeMs), entries, head, sha256, bytes }, 201);
    });
}

const momentOf = (ms: number | undefined) => (ms === undefined ? null : new Date(ms).toISOString());

const moment = { type: ['string', 'null'] };

export const upkeepDocs: readonly RouteDoc[] = [
  {
    method: 'get',
    path: '/api/upkeep',
    tag: 'Service',
    who: readers,
    summary: 'How the file of the log is kept',
    description:
      'Whether anything can be written just now, when the last backup was made and proven, and what someone should look after.',
    answers: {
      200: {
        description: 'How it stands',
        schema: {
          type: 'object',
          properties: {
            at: { type: 'string' },
            warnings: { type: 'array', items: { type: 'string' } },
            stop: { type: ['object', 'null'] },
            lastBackupAt: moment,
            backupFailed: { type: ['string', 'null'] },
            backupEveryHours: { type: 'number' },
            lastDrillAt: moment,
            lastCheckAt: moment,
            firstBad: { type: ['object', 'null'] },
          },
        },
      },
    },
  },
  {
    method: 'post',
    path: '/api/upkeep/backups',
    tag: 'Service',
    who: ['head'],
    summary: 'Make a backup now',
    description: 'Copies the running log, checks the copy in full, and answers when it is kept.',
    answers: { 201: { description: 'The backup, by its digest and the seal of its last entry' } },
  },
];
