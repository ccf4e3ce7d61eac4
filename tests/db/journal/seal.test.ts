import { expect, test } from 'vitest';
import { faultOf, headOfJournal, verifyChain, wholeJournal } from '#db/journal/chain.ts';
import { genesisHash, journalHash, type SealedRow, sha256 } from '#db/journal/hash.ts';
import { sealed } from '#db/journal/seal.ts';
import { aStrain, at } from '#tests/support/brewery.ts';

const row: Omit<SealedRow, 'hash'> = {
  seq: 7,
  id: 'entry',
  kind: 'reading',
  recordId: 'record',
  supersedes: 'earlier',
  reason: 'misread',
  byName: 'Maeve',
  actor: 'maeve',
  via: 'web',
  happenedAt: '2026-03-02T08:00:00.000Z',
  happenedMs: 1_772_438_400_000,
  receivedMs: 1_772_438_401_000,
  requestSha256: 'f'.repeat(64),
  body: '{"gravitySg":1.03}',
  warnings: ['look again'],
  clockFastMs: -3_000,
  prevHash: genesisHash,
};

// FIPS 180-4, its example of one block; and by another program, of the text as UTF-8.
test('sha256(text) is the published digest', () => {
  expect(sha256('abc')).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
  expect(sha256('Lotte’s yeast')).toBe(
    '691c4ee70f98cc89451d2d08ab36e0cb1aba4399552422581039d0ccc5970a8e',
  );
});

// Written out by hand: a seal that reads otherwise would call every log of old a forgery.
test('a seal is the digest of everything a row says, in this order', () => {
  const zeros = '0'.repeat(64);
  const request = 'f'.repeat(64);
  const text =
    `["${zeros}",7,"entry","reading","record","earlier","misread","Maeve","maeve","web",` +
    `"2026-03-02T08:00:00.000Z",1772438400000,1772438401000,"${request}",` +
    '"{\\"gravitySg\\":1.03}",["look again"]';
  expect(journalHash(row)).toBe(sha256(`${text},-3000]`));
  expect(journalHash({ ...row, clockFastMs: null })).toBe(sha256(`${text}]`));
});

test('no part of a row can be changed under its seal', () => {
  const changes: Partial<SealedRow>[] = [
    { seq: 8 },
    { id: 'other' },
    { kind: 'crop' },
    { recordId: 'other' },
    { supersedes: null },
    { reason: 'another' },
    { byName: 'Tom' },
    { actor: 'tom' },
    { via: 'import' },
    { happenedAt: '2026-03-02T08:00:00.001Z' },
    { happenedMs: row.happenedMs + 1 },
    { receivedMs: row.receivedMs + 1 },
    { requestSha256: 'e'.repeat(64) },
    { body: '{"gravitySg":1.031}' },
    { warnings: [] },
    { clockFastMs: 0 },
    { clockFastMs: null },
    { prevHash: '1'.repeat(64) },
  ];
  const seals = changes.map((change) => journalHash({ ...row, ...change }));
  expect(new Set([journalHash(row), ...seals]).size).toBe(changes.length + 1);
  // Every field is tried; the seal itself is the one more.
  expect(new Set(changes.flatMap(Object.keys))).toEqual(new Set(Object.keys(row)));
});

const source = { receivedMs: Date.parse(at(1)), actor: 'ines', via: 'web' as const };
const sealing = (id: string) => ({ ...source, id, recordId: id, requestSha256: '', warnings: [] });

/** So many strains, sealed one after the other. */
function aChain(length: number): SealedRow[] {
  const rows: ReturnType<typeof sealed>[] = [];
  for (let nth = 1; nth <= length; nth += 1)
    rows.push(sealed(aStrain({ name: `Tern ${nth}` }), sealing(`entry ${nth}`), rows.at(-1)));
  return rows;
}

test('sealed(entry) begins with sixty-four zeros, and then follows the seal before', () => {
  const [first, second] = aChain(2);
  expect(first).toMatchObject({ seq: 1, prevHash: '0'.repeat(64), clockFastMs: null });
  expect(second).toMatchObject({ seq: 2, prevHash: first?.hash, supersedes: null, reason: null });
  expect(second?.happenedMs).toBe(Date.parse(second?.happenedAt ?? ''));
  const told = sealed(aStrain(), { ...sealing('x'), clockFastMs: 0 }, undefined);
  expect(told.clockFastMs).toBe(0);
});

test('faultOf(row) names what is wrong: one missing, one out of line, one rewritten', () => {
  const [first, second, third] = aChain(3);
  if (first === undefined || second === undefined || third === undefined) throw new Error();
  expect(faultOf(first, genesisHash, 1)).toBe(undefined);
  expect(faultOf(second, first.hash, 2)).toBe(undefined);
  expect(faultOf(third, first.hash, 2)).toBe('entry 2 is missing');
  expect(faultOf(second, genesisHash, 2)).toBe('it does not follow the entry before it');
  expect(faultOf({ ...second, byName: 'Tom' }, first.hash, 2)).toBe(
    'its content does not match its seal',
  );
});

/** A journal that answers the statements of the walk, and which rows it was asked for. */
function aJournal(rows: readonly SealedRow[]) {
  const asked: number[] = [];
  const stored = rows.map((each) => ({
    ...{ seq: each.seq, id: each.id, kind: each.kind, record_id: each.recordId },
    ...{ supersedes: each.supersedes, reason: each.reason, by_name: each.byName },
    ...{ actor: each.actor, via: each.via, happened_at: each.happenedAt },
    ...{ happened_ms: each.happenedMs, received_ms: each.receivedMs },
    ...{ request_sha256: each.requestSha256, body: each.body, hash: each.hash },
    ...{ warnings: JSON.stringify(each.warnings), prev_hash: each.prevHash },
    clock_fast_ms: each.clockFastMs,
  }));
  const answer = (sql: string, [seq = 0, limit = 0]: number[] = []): unknown[] => {
    if (sql.includes('count(*)'))
      return [{ entries: stored.length, newest: stored.at(-1)?.seq ?? null }];
    if (sql.includes('seq = ?')) return stored.filter((each) => each.seq === seq);
    if (sql.includes('DESC')) return stored.slice(-1);
    const page = stored.filter((each) => each.seq > seq).slice(0, limit);
    asked.push(...page.map((each) => each.seq));
    return page;
  };
  const execute = async (sql: string, args?: number[]) => ({ rows: answer(sql, args) });
  return { asked, log: { execute } as unknown as Parameters<typeof verifyChain>[0] };
}

test('verifyChain(log) walks every row, over several pages, to the head', async () => {
  const rows = aChain(1_201);
  const { log, asked } = aJournal(rows);
  const head = rows.at(-1)?.hash;
  expect(await verifyChain(log)).toEqual({ sound: true, entries: 1_201, head });
  expect(asked).toHaveLength(1_201);
  expect(await headOfJournal(log)).toEqual({ entries: 1_201, head });
});

test('an empty journal is sound, and its head is the seal before the first', async () => {
  const { log } = aJournal([]);
  expect(await verifyChain(log)).toEqual({ sound: true, entries: 0, head: genesisHash });
  expect(await headOfJournal(log)).toEqual({ entries: 0, head: genesisHash });
});

test('verifyChain(log) names the first bad row of several, in whichever page', async () => {
  const rows = aChain(1_201);
  const spoilt = rows.map((each) =>
    [700, 1_100].includes(each.seq) ? { ...each, actor: 'x' } : each,
  );
  expect(await verifyChain(aJournal(spoilt).log)).toEqual({
    sound: false,
    entries: 1_201,
    firstBad: {
      seq: 700,
      id: 'entry 700',
      recordId: 'entry 700',
      why: 'its content does not match its seal',
    },
  });
  const gap = rows.filter(({ seq }) => seq !== 500);
  expect(await verifyChain(aJournal(gap).log)).toMatchObject({
    firstBad: { seq: 501, why: 'entry 500 is missing' },
  });
});

test('verifyChain(log, { last }) looks at the last so many, from the seal before them', async () => {
  const rows = aChain(10);
  const { log, asked } = aJournal(rows);
  expect(await verifyChain(log, { last: 3 })).toMatchObject({ sound: true, entries: 10 });
  expect(asked).toEqual([8, 9, 10]);
  const early = rows.map((each) => (each.seq === 2 ? { ...each, actor: 'x' } : each));
  expect((await verifyChain(aJournal(early).log, { last: 3 })).sound).toBe(true);
  const before = rows.map((each) => (each.seq === 7 ? { ...each, hash: 'x' } : each));
  expect(await verifyChain(aJournal(before).log, { last: 3 })).toMatchObject({
    firstBad: { seq: 8, why: 'it does not follow the entry before it' },
  });
  expect(await verifyChain(aJournal(rows.slice(0, 2)).log, { last: 3 })).toMatchObject({
    sound: true,
    entries: 2,
  });
});

test('what a row may leave out is read back as it was sealed', async () => {
  const first = sealed(aStrain(), sealing('first'), undefined);
  const correction = { ...aStrain(), supersedes: 'first', reason: 'misspelt' };
  const told = { ...sealing('second'), clockFastMs: -3_000, warnings: ['look again'] };
  const rows = [first, sealed(correction, told, first)];
  expect((await verifyChain(aJournal(rows).log)).sound).toBe(true);
  expect(await wholeJournal(aJournal(rows).log.execute)).toEqual(rows);
  // As a file holds it that is older than the column.
  const { clockFastMs: _, ...old } = first;
  const older = aJournal([old as SealedRow]);
  expect((await verifyChain(older.log)).sound).toBe(true);
});

test('wholeJournal(log) gives every row once, over several pages', async () => {
  const rows = aChain(1_201);
  const read = await wholeJournal(aJournal(rows).log.execute);
  expect(read.map(({ seq }) => seq)).toEqual(rows.map(({ seq }) => seq));
});

test('warnings that are no longer a list are told as a broken seal', async () => {
  const rows = aChain(1).map((each) => ({ ...each, warnings: 'none' as unknown as string[] }));
  expect(await verifyChain(aJournal(rows).log)).toMatchObject({
    firstBad: { seq: 1, why: 'its content does not match its seal' },
  });
});
