import fc from 'fast-check';
import { expect, test } from 'vitest';
import { jsonSchema } from '#api/apiDocument.ts';
import { entry, type RecordKind, recordSchemas } from '#shared/entries/entry.ts';
import { refusalToWrite, writersOf } from '#shared/permissions.ts';
import { type Role, roles } from '#shared/roles.ts';
import { aFerment, aStrain, at, nextId } from '#tests/support/brewery.ts';
import { fromSchema } from '#tests/support/fromSchema.ts';
import { anApi } from '#tests/support/server.ts';

// Written out by hand from what each hand in a brewery does: common practice, no source.
const cellarWork: RecordKind[] = ['reading', 'chill', 'rack', 'crop', 'storeReading', 'discard'];
const holds: RecordKind[] = ['hold', 'familyHold'];
const brewing: RecordKind[] = [
  'ferment',
  'pitch',
  'blend',
  'transfer',
  'treatment',
  'plannedBrew',
  'allotment',
  'vessel',
  'freshCulture',
];
const bench: RecordKind[] = [
  'count',
  'stain',
  'medium',
  'microCheck',
  'microResult',
  'freshCulture',
];
const mayWrite: Record<Exclude<Role, 'head'>, RecordKind[]> = {
  viewer: [],
  cellar: [...cellarWork, ...holds],
  lab: [...cellarWork, ...holds, ...bench],
  brewer: [...cellarWork, ...holds, ...brewing],
};

test('each role may write these kinds and no others, a head brewer all', () => {
  const kinds = Object.entries(writersOf);
  expect(kinds.length).toBe(Object.keys(recordSchemas).length);
  for (const role of ['viewer', 'cellar', 'lab', 'brewer'] as const) {
    const allowed = kinds.filter(([, held]) => held.includes(role)).map(([kind]) => kind);
    expect(allowed.sort(), role).toEqual([...mayWrite[role]].sort());
  }
  expect(kinds.filter(([, held]) => !held.includes('head'))).toEqual([]);
});

test('PUT /api/entries/{id} answers 403 to whoever may not write that kind, and writes nothing', async () => {
  const api = await anApi();
  const wrong: string[] = [];
  let refused = 0;
  for (const role of roles) {
    const person = await api.signIn(role, role);
    for (const kind of Object.keys(recordSchemas)) {
      const answer = await api.send('PUT', `/api/entries/${nextId()}`, sampleOf(kind), person);
      if (answer.status === 403) refused += 1;
      if ((answer.status === 403) === mayBe(role, kind))
        wrong.push(`${role} ${kind}: ${answer.status}`);
    }
  }
  const { rows } = await api.database.execute(
    "SELECT count(*) AS n FROM journal WHERE actor = 'viewer'",
  );
  expect(rows[0]?.n).toBe(0);
  expect(wrong).toEqual([]);
  const allowed = Object.values(writersOf).flat().length;
  expect(refused).toBe(roles.length * Object.keys(writersOf).length - allowed);
});

/** An entry of a kind that the schema takes, and that neither corrects nor overrides. */
function sampleOf(kind: string): unknown {
  const schema = Object.entries(recordSchemas).find(([each]) => each === kind)?.[1];
  if (schema === undefined) throw new Error(`There is no kind ${kind}.`);
  const bodies = fc.sample(fromSchema(jsonSchema(schema)), { numRuns: 500, seed: 7 });
  for (const body of bodies) {
    const {
      supersedes: _,
      reason: __,
      override: ___,
      importId: ____,
      ...rest
    } = Object.fromEntries(Object.entries(body ?? {}));
    if (entry.safeParse(rest).success) return rest;
  }
  throw new Error(`No sample of ${kind} is an entry.`);
}

const mayBe = (role: Role, kind: string) =>
  Object.entries(writersOf).some(([each, held]) => each === kind && held.includes(role));

test('a person of several roles may do what any of them may', async () => {
  const { send, signIn } = await anApi();
  const both = await signIn('both', 'viewer', 'brewer');
  const vessel = { kind: 'vessel', happenedAt: at(0), by: 'Tom', name: 'FV1' };
  expect((await send('PUT', `/api/entries/${nextId()}`, vessel, both)).status).toBe(201);
});

async function aReadGyle() {
  const api = await anApi();
  const write = async (entry: Record<string, unknown>) => {
    const response = await api.put({ happenedAt: at(0), by: 'Ines', ...entry });
    const { id }: { id: string } = await response.json();
    expect(response.status).toBe(201);
    return id;
  };
  const strainId = await write(aStrain());
  const vesselId = await write({ kind: 'vessel', name: 'FV1' });
  const fermentId = await write({ ...aFerment({ vesselId, strainId }), happenedAt: at(0) });
  const reading = { kind: 'reading', happenedAt: at(0), fermentId, gravitySg: 1.03 };
  return { ...api, write, strainId, fermentId, reading };
}

test('whoever wrote an entry corrects it within 24 hours, later only a head brewer', async () => {
  const { send, signIn, setHours, reading } = await aReadGyle();
  const maeve = await signIn('maeve', 'cellar');
  const jory = await signIn('jory', 'lab');
  const put = async (id: string, body: unknown, as = maeve) =>
    (await send('PUT', `/api/entries/${id}`, body, as)).status;
  const id = nextId();
  expect(await put(id, { ...reading, by: 'Maeve' })).toBe(201);
  const correction = { ...reading, by: 'Maeve', gravitySg: 1.031, reason: 'misread' };

  expect(await put(nextId(), { ...correction, supersedes: id }, jory)).toBe(403);
  setHours(23);
  const second = nextId();
  expect(await put(second, { ...correction, supersedes: id })).toBe(201);
  // The day runs from the record, so that correcting does not prolong it.
  setHours(25);
  const third = { ...correction, gravitySg: 1.032, supersedes: second };
  expect(await put(nextId(), third)).toBe(403);
  const ines = await signIn('ines', 'head');
  expect(await put(nextId(), third, ines)).toBe(201);
});

test('what the head brewer corrected is no longer its writer’s own', () => {
  const maeve = { userName: 'maeve', roles: ['cellar'] as const };
  const written = {
    kind: 'storeReading',
    happenedAt: at(0),
    by: 'Maeve',
    lotId: 'x',
    tempC: 3,
  } as const;
  const corrected = { actor: 'ines', recordReceivedMs: 0 };
  expect(refusalToWrite(maeve, written, { corrected, nowMs: 1 })).toContain('another');
});

test('striking out and pitching all the same need a head brewer', async () => {
  const { send, signIn, write, strainId, fermentId, reading } = await aReadGyle();
  const tom = await signIn('tom', 'brewer');
  const put = async (body: unknown, as = tom) => {
    const response = await send('PUT', `/api/entries/${nextId()}`, body, as);
    return { status: response.status, body: await response.json() };
  };
  const own = await put({ ...reading, by: 'Tom' });
  const striking = { kind: 'void', happenedAt: at(0), by: 'Tom', reason: 'twice' };
  expect(await put({ ...striking, supersedes: own.body.id })).toMatchObject({
    status: 403,
    body: { code: 'forbidden' },
  });
  const lotId = await write({
    kind: 'freshCulture',
    strainId,
    origin: 'bought',
    generation: 0,
    amountL: 20,
  });
  await write({ kind: 'hold', lotId, why: 'smells' });
  const pitch = { kind: 'pitch', happenedAt: at(0), by: 'Tom', fermentId, lotId, amountL: 5 };
  expect((await put(pitch)).status).toBe(422);
  expect((await put({ ...pitch, override: 'no other yeast' })).status).toBe(403);
  const ines = await signIn('ines', 'head');
  expect((await put({ ...pitch, override: 'no other yeast' }, ines)).status).toBe(201);
});

test('an entry keeps who wrote it down beside who did it', async () => {
  const { send, signIn, database, reading } = await aReadGyle();
  const maeve = await signIn('maeve', 'cellar');
  await send('PUT', `/api/entries/${nextId()}`, { ...reading, by: 'Tom' }, maeve);
  await send('PUT', `/api/entries/${nextId()}`, { ...reading, tempC: 20 }, maeve);
  const { rows } = await database.execute(
    'SELECT actor, by_name, via FROM journal ORDER BY seq DESC LIMIT 2',
  );
  expect(rows.map((row) => ({ ...row }))).toEqual([
    { actor: 'maeve', by_name: 'Maeve', via: 'web' },
    { actor: 'maeve', by_name: 'Tom', via: 'web' },
  ]);
});
