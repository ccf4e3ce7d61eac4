import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { copyFile, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { pathToFileURL } from 'node:url';
import { createClient } from '@libsql/client';
import { afterAll, expect, test } from 'vitest';
import { verifyChain } from '#db/journal/chain.ts';
import { aFolder, times } from './rig.ts';

const folder = await aFolder();
afterAll(() => folder.remove());

const writer = `
  const { openLog } = await import('#db/opening/openLog.ts');
  const { record } = await import('#db/journal/journal.ts');
  const { newId } = await import('#tests/faults/rig.ts');
  const { aStrain } = await import('#tests/support/brewery.ts');
  const [path] = process.argv.slice(1);
  const place = { file: path + '/barmbook.db', backupFolder: path + '/b', mirrorFolder: undefined };
  const { database } = await openLog(place, { nowMs: Date.now(), newId: newId() });
  const source = { receivedMs: Date.now(), actor: 'ines', via: 'web' };
  const happenedAt = new Date(Date.now() - 1000).toISOString();
  for (let n = 0; n < 60; n++) {
    const { recorded } = await record(database, newId(), { kind: 'vessel', happenedAt, by: 'Ines', name: 'FV' + n }, source);
    console.log(recorded.seq);
  }
  process.kill(process.pid, 'SIGKILL');
`;

// Frames written before the log began anew stand behind the newest one, under another salt.
function endOfFrames(wal: Buffer): number {
  const salt = wal.subarray(16, 24);
  const frame = 24 + wal.readUInt32BE(8);
  let end = 32;
  while (end + frame <= wal.length && wal.subarray(end + 8, end + 16).equals(salt)) end += frame;
  return end;
}

// Power that fails loses what the disk had not yet: here the write-ahead log is cut at each of its
// last sectors. Every entry is acknowledged only after a sync, so a real loss could take none of
// them; what is shown is that a file cut anywhere opens at the end of a whole entry. Sectors written
// out of order, and a disk that lies about syncing, cannot be played without a device of our own.
test('a write-ahead log cut anywhere opens at a whole entry, never in between', async () => {
  const child = spawn(
    process.execPath,
    ['--import', 'tsx', '--input-type=module', '-e', writer, folder.path],
    { stdio: ['ignore', 'pipe', 'inherit'] },
  );
  const acknowledged: number[] = [];
  createInterface({ input: child.stdout }).on('line', (line) => acknowledged.push(Number(line)));
  await once(child, 'close');
  expect(acknowledged.length).toBe(60);
  const wal = await readFile(`${folder.file}-wal`);
  const end = endOfFrames(wal);
  const sector = 512;
  const cuts = Math.min(Math.floor(end / sector), (64 * 1024) / sector);
  const step = times(3, 1);
  const seen = new Set<number>();
  for (let cut = 0; cut < cuts; cut += step) {
    const path = join(folder.path, `cut-${cut}.db`);
    await copyFile(folder.file, path);
    await writeFile(`${path}-wal`, wal.subarray(0, end - cut * sector));
    const client = createClient({
      url: pathToFileURL(path).href,
      concurrency: 1,
      intMode: 'number',
    });
    const execute = client.execute.bind(client);
    const { rows } = await client.execute(
      `SELECT (SELECT count(*) FROM journal) AS entries, (SELECT count(*) FROM vessel) AS vessels,
              (SELECT * FROM pragma_integrity_check) AS pages`,
    );
    expect(rows[0]?.pages).toBe('ok');
    expect(rows[0]?.vessels).toBe(rows[0]?.entries);
    expect(await verifyChain({ execute })).toMatchObject({ sound: true });
    seen.add(Number(rows[0]?.entries));
    client.close();
  }
  console.log('power loss', { cuts: Math.ceil(cuts / step), statesSeen: seen.size });
  expect(seen.has(60)).toBe(true);
  expect(seen.size).toBeGreaterThan(1);
});
