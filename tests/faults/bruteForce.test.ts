import { readFile } from 'node:fs/promises';
import { afterAll, expect, test } from 'vitest';
import { hashPassword } from '#api/auth/passwords.ts';
import { accountStatements } from '#db/people/accounts.ts';
import {
  aClient,
  aFolder,
  aSeededLog,
  newId,
  pause,
  percentile,
  type Running,
  startedServer,
  times,
} from './rig.ts';

const guesses = times(150, 1_000);
const accounts = times(20, 200);
const isFull = times(0, 1) === 1;
const atOnce = 16;
/** What the hashing of two passwords at once takes, and some. */
const mostMoreMb = 150;

const password = 'a tall ship under bare poles';
const folder = await aFolder();
const { cookie, seed } = await aSeededLog(folder, async ({ database }) => {
  const passwordHash = await hashPassword(password);
  for (const userName of ['owner', ...Array.from({ length: accounts }, (_, n) => `hand${n}`)])
    await database.write(
      accountStatements({
        id: newId(),
        userName,
        name: userName,
        roles: ['viewer'],
        passwordHash,
        createdMs: Date.now(),
      }),
    );
});
let server: Running = await startedServer(folder);
afterAll(async () => {
  await server.end('SIGKILL');
  await folder.remove();
});

async function signIn(userName: string, typed: string, device = '') {
  const began = performance.now();
  const response = await fetch(`${server.url}/api/session`, {
    method: 'POST',
    headers: { origin: server.url, cookie: device, 'content-type': 'application/json' },
    body: JSON.stringify({ userName, password: typed, keep: false }),
  });
  await response.arrayBuffer();
  return {
    status: response.status,
    waitS: Number(response.headers.get('retry-after') ?? 0),
    cookies: response.headers.getSetCookie(),
    ms: performance.now() - began,
  };
}

/** What the server's process holds in memory [MB], where the machine tells. */
async function memoryMb(): Promise<number | undefined> {
  const status = await readFile(`/proc/${server.process.pid}/status`, 'utf8').catch(() => '');
  const kb = /VmRSS:\s+(\d+) kB/.exec(status)?.[1];
  return kb === undefined ? undefined : Number(kb) / 1024;
}

/** Guesses from one address, many at once; what they are answered. */
async function guessed(names: readonly string[]): Promise<number[]> {
  const statuses: number[] = [];
  const rest = names.entries();
  const hand = async () => {
    for (const [nth, name] of rest) statuses.push((await signIn(name, `guess ${nth}`)).status);
  };
  await Promise.all(Array.from({ length: atOnce }, hand));
  return statuses;
}
const weighed = (statuses: readonly number[]) => statuses.filter((status) => status === 401).length;

test(`${guesses} guesses at one account and five at each of ${accounts}: few are weighed, and everyone else goes on`, async () => {
  const first = await signIn('owner', password);
  expect(first.status).toBe(201);
  const device = /barm-device[^=]*=[\w-]+/.exec(first.cookies.join(' '))?.[0] ?? '';
  const client = aClient(server.url, cookie);
  await client.get(`/api/lots/${seed.lotId}/standing`);
  const beforeMb = await memoryMb();

  let isOver = false;
  const reads: number[] = [];
  let mostMb = 0;
  const beside = (async () => {
    for (let nth = 0; !isOver; nth += 1) {
      const path = nth % 2 === 0 ? `/api/lots/${seed.lotId}/standing` : '/api/setup';
      const { status, ms } = await client.get(path);
      expect(status).toBe(200);
      reads.push(ms);
      mostMb = Math.max(mostMb, (await memoryMb()) ?? 0);
      await pause(10);
    }
  })();
  const attack = (async () => [
    await guessed(Array.from({ length: guesses }, () => 'owner')),
    await guessed(Array.from({ length: accounts * 5 }, (_, n) => `hand${n % accounts}`)),
  ])();
  await pause(200);
  const owner = await signIn('owner', password, device);
  const [atOne = [], atMany = []] = await attack;
  isOver = true;
  await beside;
  console.log('brute force', {
    guesses: atOne.length + atMany.length,
    weighedAtOne: weighed(atOne),
    weighedAtMany: weighed(atMany),
    ownerMs: Math.round(owner.ms),
    reads: reads.length,
    readsP99Ms: Math.round(percentile(reads, 0.99)),
    moreMb: beforeMb === undefined ? 'unknown' : Math.round(mostMb - beforeMb),
  });

  expect(new Set([...atOne, ...atMany])).toEqual(new Set([401, 429]));
  expect(weighed(atOne)).toBeLessThanOrEqual(12);
  expect(weighed([...atOne, ...atMany])).toBeLessThanOrEqual(30);
  expect(owner.status).toBe(201);
  if (beforeMb !== undefined) expect(mostMb - beforeMb).toBeLessThan(mostMoreMb);
  if (isFull) expect(percentile(reads, 0.99)).toBeLessThan(250);

  await server.end('SIGKILL');
  // At the same address, which the names of its cookies bear.
  server = await startedServer(folder, { PORT: new URL(server.url).port });
  const stranger = await signIn('owner', password);
  expect(stranger.status).toBe(429);
  expect(stranger.waitS).toBeGreaterThan(0);
  expect((await signIn('owner', password, device)).status).toBe(201);
});
