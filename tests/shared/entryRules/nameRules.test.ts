import { expect, test } from 'vitest';
import { entry as entrySchema, type RecordEntry } from '#shared/entries/entry.ts';
import { nameRefusals } from '#shared/entryRules/nameRules.ts';
import { faultOfName } from '#shared/nameText.ts';
import { newPersonRequest } from '#shared/people.ts';
import { aFerment, aStrain, at } from '#tests/support/brewery.ts';

const refused = (entry: RecordEntry, before?: RecordEntry) =>
  nameRefusals(entry, { before }).map(({ path, message }) => `${path}: ${message}`);

test.each([
  ['U+200B', 'TN\u200b'],
  ['U+200D', 'TN\u200d'],
  ['U+202E', '\u202eTN'],
  ['U+2066', 'T\u2066N'],
  ['U+0085', 'TN\u0085'],
  ['U+000A', 'T\nN'],
  ['U+00AD', 'T\u00adN'],
  ['U+FEFF', '\ufeffTN'],
  ['U+E0041', 'TN\u{e0041}'],
  ['U+3164', 'TN\u3164'],
])('a name with %s in it is refused, and the field is named', (code, name) => {
  expect(refused(aStrain({ name }))).toEqual([
    `name: The name holds a character that cannot be seen (${code}): type it anew`,
  ]);
});

test.each(['Ærø 2', 'Ştefan', 'O’Neill & Sons', '酵母', 'خميرة', 'Pale 4 %', 'e\u0301tat'])(
  'the name %s is taken',
  (name) => {
    expect(faultOfName('The name', name)).toBe(undefined);
  },
);

test('gyles, beers and cask batches are names; what is told in sentences is not', () => {
  const ferment = aFerment({
    vesselId: 'fv1',
    strainId: 'tern',
    gyle: '4\u200b12',
    beer: 'B\u202e',
  });
  expect(refused({ ...ferment, note: 'So\u200dso' }).map((each) => each.split(':')[0])).toEqual([
    'gyle',
    'beer',
  ]);
  const racked = { kind: 'rack', happenedAt: at(1), by: 'Ines', fermentId: 'gyle' } as const;
  expect(refused({ ...racked, batches: ['A1', 'A\u200b2'] })).toEqual([
    'batches.1: The cask batch holds a character that cannot be seen (U+200B): type it anew',
  ]);
});

test('what was written before stays readable, and is corrected without giving it a new name', () => {
  const before = aStrain({ name: 'Te\u200brn' });
  expect(entrySchema.safeParse(before).success).toBe(true);
  expect(refused({ ...before, leadTimeDays: 10 }, before)).toEqual([]);
  expect(refused({ ...before, name: 'Te\u200br\u200bn' }, before)).toHaveLength(1);
});

test('the name of a person is held to the same', () => {
  const person = { userName: 'ines', roles: ['head'] };
  const { error } = newPersonRequest.safeParse({ ...person, name: 'In\u200bes' });
  expect(error?.issues[0]).toMatchObject({
    path: ['name'],
    message: 'Name holds a character that cannot be seen (U+200B): type it anew',
  });
  expect(newPersonRequest.safeParse({ ...person, name: 'Inès' }).success).toBe(true);
});
