import { afterAll, expect, test } from 'vitest';
import type { Entry } from '#shared/entries/entry.ts';
import {
  aClient,
  aFolder,
  aSeed,
  aSignedInLog,
  type Client,
  mixedEntry,
  newId,
  pause,
  percentile,
  type Seed,
  soundReport,
  startedServer,
  times,
} from './rig.ts';

const kills = times(3, 300);
const clients = 4;
const folder = await aFolder();
afterAll(() => folder.remove());

type Sent = { id: string; entry: Entry; seq: number | undefined };

/** Four clients write without pause until the server is gone. */
async function underLoad(client: Client, seed: Seed, from: number): Promise<Sent[]> {
  const sent: Sent[] = [];
  let n = from;
  let isUp = true;
  const work = async () => {
    while (isUp) {
      const one: Sent = { id: newId(), entry: mixedEntry(seed, n++), seq: undefined };
      sent.push(one);
      const { status, body } = await client.put(one.entry, one.id);
      if (status === 201) one.seq = Number(body.seq);
      else if (status === 0) isUp = false;
      else throw new Error(`${JSON.stringify(one.entry)} was refused: ${JSON.stringify(body)}`);
    }
  };
  await Promise.all(Array.from({ length: clients }, work));
  return sent;
}

// Every kill: what was acknowledged is there, what was not is there once or not at all, and at most
// one per client; the whole file holds together, and its projections are what its journal says.
test(`kill -9 while four clients write, ${kills} times: nothing acknowledged is lost`, async () => {
  const cookie = await aSignedInLog(folder);
  const figures = { kills: 0, acknowledged: 0, lost: 0, unanswered: 0, unansweredKept: 0 };
  const starts: number[] = [];
  let server = await startedServer(folder);
  const seed = await aSeed(aClient(server.url, cookie));
  let n = 0;
  for (let kill = 0; kill < kills; kill += 1) {
    const writing = underLoad(aClient(server.url, cookie), seed, n);
    await pause(200 + ((kill * 37) % 300));
    await server.end('SIGKILL');
    const sent = await writing;
    n += sent.length;
    if (kill % 10 === 0) await soundReport(folder.file);
    server = await startedServer(folder);
    starts.push(server.startedInMs);
    const client = aClient(server.url, cookie);
    for (const one of sent.filter(({ seq }) => seq !== undefined)) {
      const { status, body } = await client.get(`/api/entries/${one.id}`);
      if (status !== 200 || body.seq !== one.seq) figures.lost += 1;
    }
    const unanswered = sent.filter(({ seq }) => seq === undefined);
    for (const one of unanswered) {
      const kept = (await client.get(`/api/entries/${one.id}`)).status === 200;
      if (kept) figures.unansweredKept += 1;
      const again = await client.put(one.entry, one.id);
      expect({ status: again.status, entry: one.entry, answer: again.body }).toMatchObject({
        status: kept ? 200 : 201,
      });
      expect((await client.get(`/api/records/${one.id}/history`)).body.items).toHaveLength(1);
    }
    expect(unanswered.length).toBeLessThanOrEqual(clients);
    figures.kills += 1;
    figures.acknowledged += sent.length - unanswered.length;
    figures.unanswered += unanswered.length;
  }
  await server.end('SIGTERM');
  const { entries } = await soundReport(folder.file);
  console.log('kill -9', {
    ...figures,
    entries,
    slowestStartMs: Math.round(percentile(starts, 1)),
  });
  expect(figures.lost).toBe(0);
  expect(figures.acknowledged).toBeGreaterThan(kills);
  expect(entries).toBeGreaterThanOrEqual(figures.acknowledged);
});
