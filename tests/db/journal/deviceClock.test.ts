import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { verifyChain } from '#db/journal/chain.ts';
import { genesisHash, journalHash } from '#db/journal/hash.ts';
import { record } from '#db/journal/journal.ts';
import { getEntry } from '#db/reads/history.ts';
import { mirroredAfter, openMirror } from '#db/safety/mirror.ts';
import { aStrain, at, freshDatabase, nextId } from '#tests/support/brewery.ts';

const hourMs = 3_600_000;
const source = { receivedMs: Date.parse(at(3)), actor: 'ines', via: 'web' as const };

/** Two entries: the first sent by a clock that was 3 h behind, the second by one that said nothing. */
async function twoEntries() {
  const database = await freshDatabase();
  const [first, second] = [nextId(), nextId()];
  await record(database, first, aStrain(), { ...source, clockFastMs: -3 * hourMs });
  await record(database, second, aStrain({ name: 'Skua', code: 'SK' }), source);
  return { database, first, second };
}

test('the error of the clock is kept and told, the time as claimed is left as it was', async () => {
  const { database, first, second } = await twoEntries();
  expect(await getEntry(database.query, first)).toMatchObject({
    happenedAt: at(0),
    clockFastMs: -3 * hourMs,
    timeRemarks: ['device clock was 3 h behind'],
  });
  expect(await getEntry(database.query, second)).toMatchObject({
    happenedAt: at(0),
    clockFastMs: null,
    timeRemarks: ['entered 3 h after it happened'],
  });
});

test('the same entry sent again keeps the error of the first time', async () => {
  const { database, first } = await twoEntries();
  await record(database, first, aStrain(), { ...source, clockFastMs: 0 });
  expect((await getEntry(database.query, first)).clockFastMs).toBe(-3 * hourMs);
});

test.each([
  ['changed', 'UPDATE journal SET clock_fast_ms = 0 WHERE seq = 1', 1],
  ['taken away', 'UPDATE journal SET clock_fast_ms = NULL WHERE seq = 1', 1],
  ['put where there was none', 'UPDATE journal SET clock_fast_ms = 0 WHERE seq = 2', 2],
])('a kept error that is %s no longer matches its seal', async (_how, sql, seq) => {
  const { database } = await twoEntries();
  expect(await verifyChain(database)).toMatchObject({ sound: true, entries: 2 });
  await database.execute('DROP TRIGGER journal_no_update');
  await database.execute(sql);
  expect(await verifyChain(database)).toMatchObject({ sound: false, firstBad: { seq } });
});

test('a seal from before the clock was kept is the same as one of an entry that told none', () => {
  // Worked out by hand from the sixteen parts such a row was sealed by, with sha256sum.
  const row = {
    seq: 1,
    id: 'a',
    kind: 'strain',
    recordId: 'a',
    supersedes: null,
    reason: null,
    byName: 'Ines',
    actor: 'ines',
    via: 'web',
    happenedAt: '2026-03-02T08:00:00Z',
    happenedMs: 1772438400000,
    receivedMs: 1772438400001,
    requestSha256: 'r',
    body: '{}',
    warnings: [],
    prevHash: genesisHash,
  };
  expect(journalHash({ ...row, clockFastMs: null })).toBe(
    '8f56e9551fe59677a5cb76ee043a73fe877aa5f53aa8789529c0d9e7a0a0b03d',
  );
});

test('lines of a mirror from before the clock was kept still follow one another', async () => {
  const { database } = await twoEntries();
  const folder = await mkdtemp(join(tmpdir(), 'barmbook-mirror-'));
  const mirror = await openMirror(folder, database);
  await mirror.catchUp();
  const [name = ''] = await readdir(folder);
  const lines = await readFile(join(folder, name), 'utf8');
  await writeFile(join(folder, name), lines.replace(',"clockFastMs":null', ''));
  const rows = await mirroredAfter(folder, { seq: 0, hash: genesisHash });
  await rm(folder, { recursive: true });
  expect(lines).toContain(',"clockFastMs":null');
  expect(rows.map(({ clockFastMs }) => clockFastMs)).toEqual([-3 * hourMs, null]);
});
