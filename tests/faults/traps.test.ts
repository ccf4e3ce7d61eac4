import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { apiRoutes } from '#api/app.ts';
import { aStrain, at } from '#tests/support/brewery.ts';
import { anApi } from '#tests/support/server.ts';

/**
 * What the engine, the driver and the libraries were seen to do, and the tests that hold it off: a
 * test that is renamed or taken away must be looked for here.
 */
const traps: readonly {
  trap: string;
  held: readonly (readonly [file: string, title: string])[];
}[] = [
  {
    trap: 'after a busy error every later write on the connection fails or is lost',
    held: [
      ['faults/nthCall', '%s at each call in turn of %s'],
      ['db/database', 'a write refused as read-only leaves a fresh connection'],
    ],
  },
  {
    trap: 'two interactive transactions in one process block it, and one fails',
    held: [
      ['architecture', 'nothing writes past its queue'],
      ['db/journal/journal', 'thirty-two entries at once are all kept, in one chain'],
    ],
  },
  {
    trap: 'a failed insert on a pooled connection makes another connection lose its commit',
    held: [['db/database', 'a failed batch leaves nothing behind and later writes still count']],
  },
  {
    trap: 'settings of a connection are lost on the next one',
    held: [['db/database', 'PRAGMA %s is %s on the connection in use']],
  },
  {
    trap: 'two connections that write and checkpoint at once corrupt the file',
    held: [
      ['db/database', 'a log open in one program is refused to a second'],
      ['faults/crowd', 'a second start on the same log ends with 8'],
    ],
  },
  {
    trap: 'opening the live file by any other means gives up its lock',
    held: [['architecture', 'nothing opens the file of a running log but the engine']],
  },
  {
    trap: 'text that is not valid UTF-8 ends the process that reads it',
    held: [['faults/damage', 'text that is not UTF-8']],
  },
  {
    trap: 'text is cut at a NUL, and a lone surrogate is replaced',
    held: [
      ['api/hostile', '%s in a text is refused and not mended'],
      ['faults/traps', 'a letter composed in two ways is one letter'],
    ],
  },
  {
    trap: 'a missing or empty file becomes a new, empty log; garbage is found late',
    held: [
      ['faults/storage', 'a disk that is not there, where a log stood'],
      ['faults/damage', '%s in place of the log is refused, named and left as it is'],
    ],
  },
  {
    trap: 'a changed byte in a text passes the quick check',
    held: [
      ['faults/damage', 'each is found, or changes nothing that was recorded'],
      ['faults/restore', 'the daily check finds an entry rewritten while the log runs'],
    ],
  },
  {
    trap: 'INSERT OR REPLACE passes the trigger against deleting',
    held: [['db/safety/upkeep', 'the journal cannot be %s']],
  },
  {
    trap: 'batches of the typed layer begin deferred',
    held: [['architecture', 'nothing writes past its queue']],
  },
  {
    trap: 'migrations leave dangling rows, skip a step or accept an edited one',
    held: [
      ['faults/upgrade', 'a step that %s changes nothing'],
      ['faults/upgrade', 'a step left out of the program, or out of its order, is refused'],
      ['db/database', 'migrate(database) refuses a step edited after it was applied'],
    ],
  },
  {
    trap: 'a database server refuses what only a file understands',
    held: [['db/remote/remote', 'takes every step on a server, and nothing it refuses']],
  },
  {
    trap: 'closing does not free the file',
    held: [['db/database', 'close(database) frees the file']],
  },
  {
    trap: 'a page of another site, or another name for this host, can write',
    held: [['api/auth/guard', '']],
  },
  {
    trap: 'JSON that is odd, deep or not UTF-8 is accepted or overflows',
    held: [['api/hostile', '30,000 deep']],
  },
  {
    trap: 'parsing a large nested body blocks for seconds',
    held: [['api/hostile', 'a byte over the limit is too large for every route']],
  },
  {
    trap: 'texts and lists without a bound take long to check',
    held: [['faults/traps', 'every text and every list that is sent has a bound']],
  },
  {
    trap: 'coercion reads an empty box as 0',
    held: [
      ['architecture', 'an empty box is never read as a number, a date or a yes'],
      ['faults/traps', 'an empty text is no number'],
    ],
  },
];

test.each(traps.flatMap(({ trap, held }) => held.map(([file, title]) => [trap, file, title])))(
  'the trap that %s is held off in tests/%s',
  (_trap, file, title) => {
    const path = fileURLToPath(new URL(`../${file}.test.ts`, import.meta.url));
    expect(readFileSync(path, 'utf8')).toContain(title);
  },
);

test('there are twenty traps', () => {
  expect(traps).toHaveLength(20);
});

type Schema = Record<string, unknown>;

/** Where a schema sets no limit to a text or a list. */
function unbounded(schema: unknown, path: string): string[] {
  if (typeof schema !== 'object' || schema === null) return [];
  const { type, maxLength, pattern, format, maxItems, ...rest }: Schema = { ...schema };
  const isOpenText =
    type === 'string' &&
    [maxLength, pattern, format].every((bound) => bound === undefined) &&
    !('enum' in schema) &&
    !('const' in schema);
  const isOpenList = type === 'array' && maxItems === undefined && !('prefixItems' in schema);
  const inner = Object.entries(rest).flatMap(([key, value]) => unbounded(value, `${path}.${key}`));
  return isOpenText || isOpenList ? [path, ...inner] : inner;
}

test('every text and every list that is sent has a bound', () => {
  const requests = apiRoutes.filter(({ request }) => request !== undefined);
  expect(requests.length).toBeGreaterThan(5);
  expect(requests.flatMap(({ path, request }) => unbounded(request, path))).toEqual([]);
});

test('a letter composed in two ways is one letter', async () => {
  const api = await anApi();
  const vessel = (name: string) => ({ kind: 'vessel', happenedAt: at(0), by: 'Ines', name });
  expect((await api.put(vessel('Caf\u00e9'))).status).toBe(201);
  expect((await api.put(vessel('Cafe\u0301'))).status).toBe(422);
});

test('an empty text is no number', async () => {
  const api = await anApi();
  const answer = await api.put({ ...aStrain(), maxStorageDays: '' });
  expect(answer.status).toBe(422);
  const { errors } = await answer.json();
  expect(errors[0]).toMatchObject({ path: 'maxStorageDays' });
});
