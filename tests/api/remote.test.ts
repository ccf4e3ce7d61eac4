import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { apiRoutes, createApp } from '#api/app.ts';
import { type Database, openDatabase } from '#db/database.ts';
import { demoPassword } from '#db/demo/demoPeople.ts';
import { fillDemo } from '#db/demo/fillDemo.ts';
import { headOfJournal, verifyChain } from '#db/journal/chain.ts';
import { migrate } from '#db/migrate.ts';
import { projectionDump } from '#db/safety/upkeep.ts';
import { hourMs } from '#shared/durations.ts';
import { uuidV7 } from '#shared/uuid.ts';
import { aRemoteServer } from '#tests/support/remoteServer.ts';
import { ownOrigin } from '#tests/support/server.ts';

const nowMs = Date.UTC(2026, 9, 20, 9);
const hoursAgo = (hours: number) => new Date(nowMs - hours * hourMs).toISOString();

type Seen = { asked: string; status: number; said: string };

/** The demo brewery with Ines signed in by her password; all that is asked and said is kept. */
async function aBrowser(database: Database) {
  await migrate(database, nowMs);
  await fillDemo(database, nowMs);
  const app = createApp({ database, now: () => nowMs });
  const seen: Seen[] = [];
  let cookie = '';
  let serial = 0;
  const ask = async (method: string, path: string, body?: unknown, { isSecret = false } = {}) => {
    const answer = await app.request(path, {
      method,
      headers: { cookie, origin: ownOrigin, 'content-type': 'application/json' },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    });
    const said = await answer.text();
    const { status } = answer;
    seen.push({ asked: `${method} ${path}`, status, said: isSecret ? '' : said });
    return { status, headers: answer.headers, json: () => JSON.parse(said) };
  };
  const user = { userName: 'ines', password: demoPassword, keep: true };
  const signedIn = await ask('POST', '/api/session', user, { isSecret: true });
  expect(signedIn.status).toBe(201);
  cookie = signedIn.headers
    .getSetCookie()
    .map((each) => each.split(';')[0])
    .join('; ');
  const nextId = () => {
    serial += 1;
    const bytes = new Uint8Array(10);
    bytes[9] = serial;
    return uuidV7(nowMs, bytes);
  };
  return { ask, seen, nextId };
}

type Browser = Awaited<ReturnType<typeof aBrowser>>;

/** Records, corrects, strikes out, is refused, brings old records in and takes them back. */
async function work({ ask, nextId }: Browser): Promise<void> {
  const write = async (entry: Record<string, unknown>, id = nextId()) => {
    await ask('PUT', `/api/entries/${id}`, { by: 'Ines', happenedAt: hoursAgo(1), ...entry });
    return id;
  };
  const { items: lots } = (await ask('GET', '/api/lots/in-store')).json();
  const { items: ferments } = (await ask('GET', '/api/ferments/current')).json();
  const lotId: string = lots[0].id;
  const fermentId: string = ferments[0].id;
  const reading = { kind: 'reading', fermentId, gravitySg: 1.02 };
  const first = await write(reading);
  await write(reading, first);
  await write({ ...reading, gravitySg: 1.019 }, first);
  const better = { ...reading, gravitySg: 1.021, supersedes: first, reason: 'Misread' };
  const corrected = await write(better);
  await write({ ...better, gravitySg: 1.022 });
  await write({ kind: 'void', supersedes: corrected, reason: 'Of another FV' });
  await write({ kind: 'stain', lotId, stain: 'methylene blue', live: 190, dead: 10 });
  await write({ kind: 'storeReading', lotId, tempC: 2.5 });
  await write({ kind: 'discard', lotId, amountL: 0.25, why: 'drain' });
  await write({ kind: 'vessel', name: 'FV1' });
  await write({ kind: 'familyHold', lotId, why: 'Looks odd' });
  await write({ kind: 'reading', fermentId: nextId(), gravitySg: 1.02 });
  const units = { volume: 'L', amount: 'L', gravity: 'sg', temperature: '°C' };
  const how = { ...units, dateOrder: 'day first', timeZone: 'Europe/London' };
  const csv = (gyle: string) =>
    `Gyle,Beer,FV,Strain,Collected,Volume,OG\n${gyle},Old Bitter,FV1,Tern,02/02/2024 11:00,1600,1040`;
  const files = (gyle: string) => ({ sheets: [{ kind: 'ferments', csv: csv(gyle), units: how }] });
  await ask('POST', '/api/imports/preview', files('A101'));
  const id = nextId();
  await ask('PUT', `/api/imports/${id}`, files('A101'));
  await ask('PUT', `/api/imports/${id}`, files('A101'));
  await ask('PUT', `/api/imports/${nextId()}`, files('A101'));
  await ask('POST', '/api/imports/preview', files('A 101'));
  await ask('POST', `/api/imports/${id}/undo`, { reason: 'Wrong year' });
  const wren = { name: 'Wren', userName: 'wren', roles: ['cellar'], siteRoles: [] };
  await ask('POST', '/api/people', wren, { isSecret: true });
  await ask('POST', '/api/people', wren, { isSecret: true });
}

// What holds a code or a random id of its own.
const secret = new Set(['/api/session', '/api/passphrase', '/api/account/sessions', '/api/people']);

/** Every page's answers: each route that is read, with an id of what it speaks of. */
async function readAll({ ask }: Browser): Promise<number> {
  const idOf = async (path: string) => (await ask('GET', path)).json().items[0].id as string;
  const lotId = await idOf('/api/lots/in-store');
  const lineId = await idOf('/api/lines');
  const fermentId = await idOf('/api/ferments/current');
  const entryId = await idOf('/api/entries');
  const idFor = (path: string) => {
    if (path.startsWith('/api/lots')) return lotId;
    if (path.startsWith('/api/lines')) return lineId;
    return path.startsWith('/api/ferments') ? fermentId : entryId;
  };
  const queries: Record<string, string> = {
    '/api/trace': `?of=${lotId}`,
    '/api/trace.csv': `?of=${lotId}`,
    '/api/trace/search': '?q=TN',
    '/api/entries': '?limit=200',
  };
  const read = apiRoutes.filter(
    ({ method, path }) => method === 'get' && !path.includes('/people/{id}'),
  );
  for (const { path } of read) {
    const address = path.replace('{id}', idFor(path)).replace('{file}', 'lots.csv');
    await ask('GET', `${address}${queries[path] ?? ''}`, undefined, {
      isSecret: secret.has(path),
    });
  }
  return read.length;
}

/** What tells where the log is kept is left out. */
const plain = (each: Seen): Seen => ({
  ...each,
  said: each.said.replace(/"isOnServer":(true|false),/, ''),
});

test('all that a brewery does and reads gives the same answers from a file and from a server', {
  timeout: 600_000,
}, async () => {
  const folder = await mkdtemp(join(tmpdir(), 'barmbook-same-'));
  const server = await aRemoteServer();
  const databases = [
    await openDatabase(`file:${join(folder, 'log.db')}`),
    await openDatabase(server.url, server.token),
  ];
  const told: Seen[][] = [];
  for (const database of databases) {
    const browser = await aBrowser(database);
    await work(browser);
    expect(await readAll(browser)).toBeGreaterThan(50);
    told.push(browser.seen.map(plain));
  }
  const [fromFile = [], fromServer = []] = told;
  expect(fromFile.length).toBeGreaterThan(80);
  for (const [index, answer] of fromFile.entries())
    expect(fromServer[index], answer.asked).toEqual(answer);
  const statuses = new Set(fromFile.map(({ status }) => status));
  expect([...statuses].filter((status) => status >= 500)).toEqual([]);
  for (const status of [200, 201, 409, 422]) expect(statuses).toContain(status);
  const [file, remote] = databases;
  if (file === undefined || remote === undefined) throw new Error('There are two.');
  expect(await headOfJournal(remote)).toEqual(await headOfJournal(file));
  expect(await projectionDump(remote)).toEqual(await projectionDump(file));
  expect((await verifyChain(remote)).sound).toBe(true);
  expect(server.seen.refused).toEqual([]);
  for (const database of databases) await database.close();
  await server.remove();
  await rm(folder, { recursive: true });
});
