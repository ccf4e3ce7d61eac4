import { once } from 'node:events';
import { createServer } from 'node:net';
import { afterAll, expect, test } from 'vitest';
import { recentCrashes } from '#db/opening/crashes.ts';
import { openLog } from '#db/opening/openLog.ts';
import { noteUpkeep } from '#db/safety/upkeepEvents.ts';
import {
  aClient,
  aFolder,
  aSeededLog,
  mixedEntry,
  newId,
  startedServer,
  startServer,
  times,
} from './rig.ts';

const folder = await aFolder();
afterAll(() => folder.remove());
// What made the log did not note its end, and is the first crash.
const kills = times(1, 4);

test(`after five crashes, ${kills} of them by kill -9, it only reads, says how to leave that, and leaves it`, async () => {
  const { cookie, seed } = await aSeededLog(folder, async ({ database }) => {
    for (let crash = 1; crash + kills < 5; crash += 1)
      await noteUpkeep(database, { atMs: Date.now(), kind: 'started', detail: {} });
  });
  const start = () => startedServer(folder, { SAFE_MODE: 'on' });
  for (let kill = 0; kill < kills; kill += 1) {
    const server = await start();
    expect((await aClient(server.url, cookie).put(mixedEntry(seed, kill))).status).toBe(201);
    await server.end('SIGKILL');
  }

  let server = await start();
  const client = aClient(server.url, cookie);
  expect(server.output()).toContain('then stop it and start it again');
  expect(await client.put(mixedEntry(seed, 0))).toMatchObject({
    status: 503,
    body: { code: 'read_only', detail: expect.stringContaining('ended unexpectedly 5 times') },
  });
  expect((await client.get(`/api/lots/${seed.lotId}/standing`)).status).toBe(200);
  expect(await client.get('/readyz')).toMatchObject({
    status: 503,
    body: { missing: expect.arrayContaining(['readonly']) },
  });
  expect((await client.get('/api/upkeep')).body).toMatchObject({
    stops: [{ reason: expect.stringContaining('start it again') }],
  });
  expect(await server.end('SIGTERM')).toBe(0);

  server = await start();
  expect((await aClient(server.url, cookie).put(mixedEntry(seed, 0))).status).toBe(201);
  await server.end('SIGKILL');
});

test('a port that is taken is told plainly, and counts as no crash', async () => {
  const other = await aFolder();
  const taken = createServer().listen(0, '127.0.0.1');
  await once(taken, 'listening');
  const address = taken.address();
  const port = typeof address === 'object' ? String(address?.port) : '';
  const refused = await startServer(other, { PORT: port });
  taken.close();
  expect(refused).toMatchObject({
    exitCode: 1,
    output: expect.stringContaining(`It cannot listen on 127.0.0.1, port ${port}`),
  });
  const log = await openLog(other, { nowMs: Date.now(), newId: newId() });
  const crashes = await recentCrashes(log.database, Date.now());
  await log.close();
  await other.remove();
  expect(crashes).toBe(0);
});
