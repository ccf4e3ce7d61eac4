import { execFile } from 'node:child_process';
import { createHash } from 'node:crypto';
import { copyFile, readFile, truncate, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { createClient } from '@libsql/client';
import { afterAll, expect, test, vi } from 'vitest';
import { record } from '#db/journal/journal.ts';
import { openLog } from '#db/opening/openLog.ts';
import { makeBackup } from '#db/safety/backup.ts';
import type { FileReport, SoundFile } from '#db/safety/inspect.ts';
import { seededRandom } from '#tests/support/seededRandom.ts';
import { aFolder, aSeed, type Folder, mixedEntry, newId, soundReport, times } from './rig.ts';

// What is looked over here is never so damaged that it ends the process; a process each takes long.
vi.mock('#db/safety/inspectApart.ts', async () => {
  const { inspectFile } = await import('#db/safety/inspect.ts');
  return { inspectApart: inspectFile };
});

const folder = await aFolder();
afterAll(() => folder.remove());

/** Sixty entries, closed: one file, as it stands after a stop. */
async function aGoodLog(): Promise<SoundFile> {
  const log = await openLog(folder, { nowMs: Date.now(), newId: newId() });
  const put = async (entry: unknown, id = newId()) => {
    const source = { receivedMs: Date.now(), actor: 'ines', via: 'web' as const };
    const { recorded } = await record(log.database, id, Object(entry), source);
    return { status: 201, body: { id: recorded.id }, ms: 0 };
  };
  const seed = await aSeed({ put });
  for (let n = 0; n < 55; n += 1) await put(mixedEntry(seed, n));
  await makeBackup(log.database, {
    folder: folder.backupFolder,
    nowMs: Date.now(),
    reason: 'asked',
  });
  await log.close();
  return soundReport(folder.file);
}
const good = await aGoodLog();
const bytes = await readFile(folder.file);

/** Puts these bytes where the log stood, tries to open it, and puts the good log back. */
async function refusalOf(damagedBytes: Buffer, place: Folder = folder) {
  await writeFile(place.file, damagedBytes);
  const before = digest(damagedBytes);
  const refusal = await openLog(place, { nowMs: Date.now(), newId: newId() }).then(
    () => new Error('It was opened.'),
    (error: Error & { exitCode?: number }) => error,
  );
  const isUntouched = digest(await readFile(place.file)) === before;
  await writeFile(place.file, bytes);
  return { message: refusal.message, exitCode: Object(refusal).exitCode, isUntouched };
}

const digest = (data: Buffer) => createHash('sha256').update(data).digest('hex');

async function altered(...statements: string[]): Promise<Buffer> {
  const copy = join(folder.path, `altered-${newId()}.db`);
  await copyFile(folder.file, copy);
  const client = createClient({ url: pathToFileURL(copy).href, concurrency: 1 });
  await client.batch(statements, 'write');
  await client.execute('PRAGMA wal_checkpoint(TRUNCATE)');
  return readFile(copy);
}

const noUpdateTrigger = `CREATE TRIGGER journal_no_update BEFORE UPDATE ON journal
BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END`;

test.each<[string, () => Promise<Buffer>, number, RegExp]>([
  ['garbage', async () => Buffer.alloc(8192, 'x'), 7, /not a database file/],
  ['nothing', async () => Buffer.alloc(0), 3, /missing or empty/],
  [
    'half of it',
    async () => bytes.subarray(0, Math.floor(bytes.length / 8192) * 4096),
    7,
    /damaged/,
  ],
  [
    'zeroes in the middle',
    async () => Buffer.concat([bytes.subarray(0, 8192), Buffer.alloc(8192), bytes.subarray(16384)]),
    7,
    /damaged/,
  ],
  [
    'a newer log',
    () => altered("INSERT INTO schema_migration VALUES (9000, 'later', 'x', 0)"),
    4,
    /newer version|missing/,
  ],
  [
    'a step edited since',
    () => altered("UPDATE schema_migration SET sha256 = 'x' WHERE number = 1"),
    5,
    /edited/,
  ],
  [
    'a rule taken away',
    () => altered('DROP TRIGGER journal_no_update'),
    5,
    /altered outside.*journal_no_update/,
  ],
  ['a table added', () => altered('CREATE TABLE extra (a TEXT)'), 5, /altered outside.*extra/],
  [
    'an entry rewritten',
    () =>
      altered(
        'DROP TRIGGER journal_no_update',
        "UPDATE journal SET by_name = 'Someone' WHERE seq = 7",
        noUpdateTrigger,
      ),
    7,
    /entry 7 .*does not match its seal/,
  ],
  [
    'text that is not UTF-8',
    () =>
      altered(
        'DROP TRIGGER journal_no_update',
        "UPDATE journal SET by_name = CAST(x'49ff6e' AS TEXT) WHERE seq = 7",
        noUpdateTrigger,
      ),
    7,
    /not valid UTF-8/,
  ],
  [
    'another log',
    () => altered("UPDATE instance SET id = 'another'"),
    3,
    /another one than stood here/,
  ],
])(
  '%s in place of the log is refused, named and left as it is',
  async (_what, make, code, said) => {
    const refused = await refusalOf(await make());
    expect(refused).toMatchObject({ exitCode: code, isUntouched: true });
    expect(refused.message).toMatch(said);
    expect(refused.message).not.toContain('\n');
    if (code === 7 || code === 3)
      expect(refused.message).toMatch(/newest backup is .*barmbook-.*\.db/);
  },
);

test('the database of another program is refused and left as it is', async () => {
  const other = join(folder.path, 'other.db');
  const client = createClient({ url: pathToFileURL(other).href, concurrency: 1 });
  await client.execute('CREATE TABLE somebody (a TEXT)');
  expect(await refusalOf(await readFile(other))).toMatchObject({ exitCode: 7, isUntouched: true });
});

function inspectMany(paths: readonly string[]): Promise<Map<string, FileReport>> {
  const child = fileURLToPath(new URL('./inspectMany.ts', import.meta.url));
  return new Promise((resolve) => {
    execFile(
      process.execPath,
      ['--import', 'tsx', child, ...paths],
      { maxBuffer: 64 * 1024 * 1024 },
      (_error, stdout) => {
        const reports = new Map<string, FileReport>();
        for (const line of stdout.trim().split('\n')) {
          const { path, report }: { path: string; report: FileReport } = JSON.parse(line);
          reports.set(path, report);
        }
        resolve(reports);
      },
    );
  });
}

const flips = times(40, 400);

// A flip is either found, or the journal and all that follows from it are what they were: the seal
// of the last entry covers every entry, and the projections are compared with the journal. What the
// journal does not cover (sessions, notes of the upkeep) is not judged here.
// Only bytes in use are drawn: a log this small is mostly room for more.
test(`${flips} bits turned over at random: each is found, or changes nothing that was recorded`, async () => {
  const random = seededRandom(20_260_302);
  const inUse = [...bytes.keys()].filter((at) => bytes[at] !== 0);
  const paths: string[] = [];
  for (let flip = 0; flip < flips; flip += 1) {
    const copy = Buffer.from(bytes);
    const at = inUse[Math.floor(random.uniform() * inUse.length)] ?? 0;
    copy[at] = (copy[at] ?? 0) ^ (1 << Math.floor(random.uniform() * 8));
    const path = join(folder.path, `flip-${flip}-${at}.db`);
    await writeFile(path, copy);
    paths.push(path);
  }
  const reports = new Map<string, FileReport>();
  for (let left = paths; left.length > 0; left = left.filter((path) => !reports.has(path)))
    for (const [path, report] of await inspectMany(left)) reports.set(path, report);
  let found = 0;
  for (const [path, report] of reports) {
    if (report.state !== 'sound') found += 1;
    else
      expect({ path, entries: report.entries, head: report.head }).toEqual({
        path,
        entries: good.entries,
        head: good.head,
      });
  }
  console.log('bits turned over', { flips, found, harmless: flips - found });
  expect(reports.size).toBe(flips);
  expect(found).toBeGreaterThan(flips / 2);
});

test('the file cut short by a page is found', async () => {
  const path = join(folder.path, 'short.db');
  await writeFile(path, bytes);
  await truncate(path, bytes.length - 4096);
  expect((await inspectMany([path])).get(path)).toMatchObject({ state: 'damaged' });
});
