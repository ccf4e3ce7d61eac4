import { rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, expect, test, vi } from 'vitest';
import { createApp } from '#api/app.ts';
import { jsonLog } from '#api/log.ts';
import { createUpkeep } from '#api/upkeep/upkeep.ts';
import { openLog } from '#db/opening/openLog.ts';
import { mirrorEnd } from '#db/safety/mirror.ts';
import { hourMs } from '#shared/durations.ts';
import type { Role } from '#shared/roles.ts';
import { aFolder, aSeed, type Folder, newId } from '#tests/faults/rig.ts';
import { ownOrigin } from '#tests/support/server.ts';
import { aSession } from '#tests/support/signedIn.ts';

// What is looked over here is sound; a process each takes long.
vi.mock('#db/safety/inspectApart.ts', async () => {
  const { inspectFile } = await import('#db/safety/inspect.ts');
  return { inspectApart: inspectFile };
});

const folders: Folder[] = [];
afterAll(async () => {
  for (const folder of folders) await folder.remove();
});

async function aKeptLog({ hasSecond = false } = {}) {
  const folder = await aFolder();
  folders.push(folder);
  const { database, close } = await openLog(folder, { nowMs: Date.now(), newId: newId() });
  const secondFolder = hasSecond ? join(folder.path, 'usb') : undefined;
  let nowMs = Date.now();
  const now = () => nowMs;
  const start = () =>
    createUpkeep({
      database,
      settings: { ...folder, secondFolder, everyHours: 1, leastFreeBytes: 1 },
      now,
      newId,
      log: jsonLog(() => undefined, now),
    });
  let upkeep = await start();
  // Signed in beforehand: nobody can sign in while nothing can be written.
  const cookies = new Map<Role, string>();
  for (const role of ['head', 'brewer', 'cellar'] as const)
    cookies.set(role, (await aSession(database, { userName: role, roles: [role] })).cookie);
  const send = async (role: Role, method: string, path: string, body?: unknown) => {
    const cookie = cookies.get(role) ?? '';
    const answer = await createApp({ database, now, upkeep }).request(path, {
      method,
      headers: { cookie, origin: ownOrigin, 'content-type': 'application/json' },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    });
    const told: Record<string, unknown> = await answer.json();
    return { status: answer.status, body: told, ms: 0 };
  };
  await aSeed({ put: (entry, id = newId()) => send('head', 'PUT', `/api/entries/${id}`, entry) });
  return {
    folder,
    secondFolder,
    database,
    close,
    jobs: () => upkeep.jobs,
    restart: async () => {
      upkeep = await start();
    },
    later: (ms: number) => {
      nowMs += ms;
    },
    report: async (role: Role = 'head') => (await send(role, 'GET', '/api/upkeep')).body,
    backUp: (role: Role) => send(role, 'POST', '/api/upkeep/backups'),
  };
}

test('GET /api/upkeep tells of backups, the running copy, the chain and the disk', async () => {
  const { folder, jobs, report, later, close, backUp } = await aKeptLog({ hasSecond: true });
  for (const job of [jobs().watch, jobs().mirror, jobs().checkIfDue]) await job();
  const before = await report();
  expect(before).toMatchObject({
    warnings: [],
    stops: [],
    isKeptHere: true,
    log: { entries: 5 },
    backup: { last: null, next: { hasNews: true }, everyHours: 1, folder: folder.backupFolder },
    mirror: { isKept: true, entriesBehind: 0, behind: null, folder: folder.mirrorFolder },
    secondPlace: { isSet: true, lastAt: null },
    check: { last: { entries: 5 }, firstBad: null },
    drill: { last: null, failed: null },
  });
  expect(before.disk).toMatchObject({ freeBytes: expect.any(Number) });

  expect((await backUp('head')).status).toBe(201);
  later(hourMs / 2);
  await jobs().drillIfDue();
  const after = await report();
  expect(after).toMatchObject({
    backup: {
      last: { entries: 5, file: expect.stringMatching(/^barmbook-.*\.db$/) },
      next: { hasNews: false },
      isOtherDisk: false,
    },
    secondPlace: { failed: null, isOtherDisk: false },
    drill: { last: { entries: 5, lost: 0 } },
  });
  const { last, next } = Object(after.backup);
  expect(Date.parse(next.at) - Date.parse(last.at)).toBe(hourMs);
  await close();
});

test('what was proven is known again after a restart, with the second place', async () => {
  const { jobs, report, restart, close, backUp } = await aKeptLog({ hasSecond: true });
  await jobs().mirror();
  await backUp('head');
  await jobs().checkIfDue();
  await jobs().drillIfDue();
  const { log: _log, at: _at, disk: _disk, ...told } = await report();
  await restart();
  const again = await report();
  expect(again).toMatchObject({ check: told.check, drill: told.drill });
  expect(Object(again.secondPlace).lastAt).toBe(Object(Object(told.backup).last).at);
  await close();
});

test('folders and what the system said are told only to a head brewer', async () => {
  const { folder, report, backUp, close } = await aKeptLog();
  await rm(folder.backupFolder, { recursive: true });
  await writeFile(folder.backupFolder, 'a file where the folder should be');
  const refused = await backUp('head');
  expect(refused).toMatchObject({ status: 503, body: { code: 'unavailable' } });
  expect(String(refused.body.detail)).toContain('No backup was made');
  expect(JSON.stringify(await report('head'))).toContain(folder.path);
  const seen = await report('cellar');
  expect(JSON.stringify(seen)).not.toContain(folder.path);
  expect(seen).toMatchObject({
    backup: { folder: null, failed: { at: expect.any(String), why: null } },
  });
  await close();
});

test('POST /api/upkeep/backups is open to a head brewer only', async () => {
  const { backUp, close } = await aKeptLog();
  expect((await backUp('brewer')).status).toBe(403);
  await close();
});

test('a running copy that cannot be written is told by how far it is behind', async () => {
  const { folder, jobs, report, later, close } = await aKeptLog();
  // A stick pulled out: a file stands where the folder was.
  await rm(folder.mirrorFolder, { recursive: true });
  await writeFile(folder.mirrorFolder, '');
  await jobs().mirror();
  expect(await report()).toMatchObject({ warnings: [], mirror: { entriesBehind: 5 } });
  later(61_000);
  expect(await report()).toMatchObject({ warnings: ['mirror'] });
  await rm(folder.mirrorFolder);
  await jobs().mirror();
  expect((await mirrorEnd(folder.mirrorFolder)).seq).toBe(5);
  expect(await report()).toMatchObject({
    warnings: [],
    mirror: { entriesBehind: 0, behind: null },
  });
  await close();
});

test('a broken chain is named by its first bad entry, and looked at again at each start', async () => {
  const { database, jobs, report, restart, later, close } = await aKeptLog();
  await jobs().checkIfDue();
  await database.write([
    'DROP TRIGGER journal_no_update',
    `UPDATE journal SET body = replace(body, '"amountL":20', '"amountL":30') WHERE seq = 3`,
  ]);
  later(25 * hourMs);
  await jobs().checkIfDue();
  const broken = await report();
  expect(broken).toMatchObject({
    warnings: ['chain', 'readonly'],
    check: {
      last: { entries: 5 },
      firstBad: { seq: 3, why: 'its content does not match its seal' },
    },
  });
  const { id, recordId } = Object(Object(broken.check).firstBad);
  expect(recordId).toBe(id);

  // A start knows the last good check, a day old at most, and must not rely on it.
  database.writeStops.set('file', undefined);
  later(-24 * hourMs);
  await restart();
  await jobs().checkIfDue();
  expect(await report()).toMatchObject({ warnings: ['chain', 'readonly'] });
  await close();
});
