import { Hono } from 'hono';
import { DomainError } from '#shared/errors.ts';
import type { RouteDoc } from '../apiDocument.ts';
import { personOf } from '../auth/caller.ts';
import { readers } from '../auth/who.ts';
import type { Services } from '../context.ts';
import { whyOf } from './parts.ts';
import { moment, upkeepReport } from './report.ts';

export function upkeepRoutes(services: Services) {
  return new Hono()
    .get('/upkeep', async (context) => {
      const seesFolders = personOf(context).account.roles.includes('head');
      return context.json(await upkeepReport(services, { seesFolders }), 200);
    })
    .post('/upkeep/backups', async (context) => {
      const { upkeep } = services;
      if (upkeep === undefined || upkeep.settings.isCopiedElsewhere === true)
        throw new DomainError('unavailable', 'This log is not backed up from here.');
      const { manifest } = await upkeep.backUp('asked').catch((error: unknown) => {
        throw new DomainError('unavailable', `No backup was made: ${whyOf(error)}`);
      });
      const { madeMs, entries, head, sha256, bytes } = manifest;
      return context.json({ at: moment(madeMs), entries, head, sha256, bytes }, 201);
    });
}

const text = { type: ['string', 'null'] };
const whole = { type: 'integer' };
const yes = { type: 'boolean' };
const object = (properties: Record<string, unknown>) => ({ type: ['object', 'null'], properties });
const attempt = object({ at: text, why: text });
const place = { folder: text, isOtherDisk: { type: ['boolean', 'null'] } };

const reportSchema = object({
  at: text,
  warnings: { type: 'array', items: { type: 'string' } },
  stops: { type: 'array', items: object({ code: text, reason: text }) },
  isKeptHere: yes,
  isOnServer: yes,
  log: object({ entries: whole, head: text }),
  backup: object({
    ...place,
    everyHours: { type: 'number' },
    last: object({ at: text, entries: whole, file: text }),
    next: object({ at: text, hasNews: yes }),
    failed: attempt,
  }),
  secondPlace: object({ ...place, isSet: yes, lastAt: text, failed: attempt }),
  mirror: object({ ...place, isKept: yes, entriesBehind: whole, behind: attempt }),
  check: object({
    last: object({ at: text, entries: whole, head: text }),
    firstBad: object({ seq: whole, id: text, recordId: text, why: text }),
  }),
  drill: object({ last: object({ at: text, entries: whole, lost: whole }), failed: attempt }),
  disk: object({ freeBytes: whole, neededBytes: whole }),
});

export const upkeepDocs: readonly RouteDoc[] = [
  {
    method: 'get',
    path: '/api/upkeep',
    tag: 'Service',
    who: readers,
    summary: 'How the file of the log is kept',
    description:
      'Whether anything can be written just now, where the copies are and how old, when a restore and the chain of seals were last proven, and what someone should look after. Folders are told only to head brewers.',
    answers: { 200: { description: 'How it stands', schema: reportSchema } },
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
