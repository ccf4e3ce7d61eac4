import { expect, test } from 'vitest';
import { createApp } from '#api/app.ts';
import { freshDatabase, storyStartMs } from '#tests/support/brewery.ts';
import {
  knownPassword as password,
  knownPasswordHash as passwordHash,
} from '#tests/support/knownPassword.ts';
import { ownOrigin } from '#tests/support/server.ts';
import { anAccount } from '#tests/support/signedIn.ts';

async function aSite() {
  const database = await freshDatabase();
  let seconds = 0;
  const now = () => storyStartMs + seconds * 1_000;
  await anAccount(database, { userName: 'ines', roles: ['head'], passwordHash });
  let app = createApp({ database, now });
  const signIn = async (userName: string, typed: string, cookie = '') => {
    const response = await app.request('/api/session', {
      method: 'POST',
      headers: { origin: ownOrigin, cookie, 'content-type': 'application/json' },
      body: JSON.stringify({ userName, password: typed, keep: false }),
    });
    return response;
  };
  return {
    database,
    signIn,
    statusOf: async (userName: string, typed: string, cookie?: string) =>
      (await signIn(userName, typed, cookie)).status,
    at: (value: number) => {
      seconds = value;
    },
    restart: () => {
      app = createApp({ database, now });
    },
  };
}

test('of guesses all through an hour at most twelve are weighed, and waiting is told', async () => {
  const site = await aSite();
  const statuses: number[] = [];
  for (let second = 0; second < 3_600; second += 10) {
    site.at(second);
    statuses.push(await site.statusOf('ines', `guess number ${second}`));
  }
  expect(statuses.length).toBe(360);
  expect(statuses.filter((status) => status === 401).length).toBeLessThanOrEqual(12);
  expect(new Set(statuses)).toEqual(new Set([401, 429]));
  const refused = await site.signIn('ines', password);
  expect(refused.status).toBe(429);
  expect(Number(refused.headers.get('retry-after'))).toBeGreaterThan(60);
});

test('guesses sent all at once are counted like guesses in a row', async () => {
  const site = await aSite();
  const statuses = await Promise.all(
    Array.from({ length: 60 }, (_, n) => site.statusOf('ines', `guess number ${n}`)),
  );
  expect(statuses.filter((status) => status === 401).length).toBe(5);
  expect(statuses.filter((status) => status === 429).length).toBe(55);
});

test('strangers cannot keep the owner of a known device out, nor does a restart forget them', async () => {
  const site = await aSite();
  const first = await site.signIn('ines', password);
  const device = /barm-device=[\w-]+/.exec(first.headers.getSetCookie().join(' '))?.[0] ?? '';
  for (let n = 0; n < 8; n += 1) await site.signIn('ines', `guess number ${n}`);
  site.restart();
  expect(await site.statusOf('ines', password)).toBe(429);
  expect(await site.statusOf('ines', password, 'barm-device=unknown')).toBe(429);
  expect(await site.statusOf('ines', password, device)).toBe(201);
  // On the known device failures are limited too, on its own account.
  for (let n = 0; n < 5; n += 1) expect(await site.statusOf('ines', 'no', device)).toBe(401);
  expect(await site.statusOf('ines', password, device)).toBe(429);
});

test('one address guessing at many accounts is stopped after 30 failures', async () => {
  const site = await aSite();
  const statuses: number[] = [];
  for (let n = 0; n < 60; n += 1) statuses.push(await site.statusOf(`someone${n % 20}`, 'a guess'));
  expect(statuses.filter((status) => status === 401).length).toBe(30);
  site.at(601);
  expect(await site.statusOf('ines', password)).toBe(201);
});

test('a success takes its own attempt back and starts the name afresh', async () => {
  const site = await aSite();
  for (let n = 0; n < 12; n += 1) {
    for (let miss = 0; miss < 2; miss += 1) await site.signIn('ines', 'no');
    expect(await site.statusOf('ines', password)).toBe(201);
  }
  const { rows } = await site.database.execute('SELECT subject, failures FROM throttle');
  expect(rows.map((row) => ({ ...row }))).toEqual([{ subject: 'address:', failures: 24 }]);
});

test('a wrong name is answered like a wrong password, in the same words and much the same time', async () => {
  const site = await aSite();
  const timed = async (userName: string) => {
    await site.database.write(['DELETE FROM throttle']);
    const began = performance.now();
    const response = await site.signIn(userName, 'the wrong password');
    const ms = performance.now() - began;
    return { ms, body: await response.text() };
  };
  const pairs = [];
  for (let n = 0; n < 25; n += 1) pairs.push([await timed('ines'), await timed('nobody')] as const);
  const [known, unknown] = pairs[0] ?? [];
  expect(unknown?.body).toBe(known?.body);
  // Pairs share the load of the moment; working a hash out takes 60 ms and more, skipping it none.
  const ratios = pairs.map(([a, b]) => b.ms / a.ms).sort((a, b) => a - b);
  const median = ratios[12] ?? 0;
  expect(median).toBeGreaterThan(0.7);
  expect(median).toBeLessThan(1.4);
});

test('failures leave who and from where, and never what was typed', async () => {
  const site = await aSite();
  await site.signIn('ines', 'a very secret slip');
  const { rows } = await site.database.execute('SELECT * FROM security_event');
  expect(rows.map(({ what, user_name }) => [what, user_name])).toEqual([
    ['sign-in failed', 'ines'],
  ]);
  expect(JSON.stringify(rows)).not.toContain('secret slip');
});
