import { expect, test } from 'vitest';
import type { EntryOf, RecordEntry } from '#shared/entries/entry.ts';
import type { EntryContext } from '#shared/entryRules/entryContext.ts';
import { refusals } from '#shared/entryRules/entryRules.ts';
import { timeRefusals } from '#shared/entryRules/momentRules.ts';
import { aBrewery, aFerment, aStrain, at } from '#tests/support/brewery.ts';

const by = 'Ines';
const ms = (hours: number) => Date.parse(at(hours));
const lot: NonNullable<ReturnType<EntryContext['lots']['get']>> = {
  ...{ code: 'TN-412A', strainId: 'tern', happenedMs: ms(44), unit: 'kg', left: 10 },
  ...{ isUsed: true, siteId: null },
};
const ferment: NonNullable<EntryContext['ferment']> = {
  ...{ gyle: '413', strainId: 'tern', happenedMs: ms(50), originalGravitySg: 1.04 },
  ...{ pitchedMs: null, rackedMs: null, hasCrops: false, siteId: null },
};
const known: EntryContext = {
  receivedMs: ms(100),
  isCorrection: false,
  lots: new Map([
    ['lot', lot],
    ['second', { ...lot, code: 'TN-412B' }],
  ]),
  held: new Map(),
  ferment,
  strain: { name: 'Tern' },
  vessel: { name: 'FV1', siteId: null, hasFerments: true },
  neighbours: undefined,
  alongside: undefined,
  sites: [],
  check: undefined,
  gravityBefore: undefined,
  familyHold: undefined,
  washObjections: [],
  plannedBrews: new Map(),
  policyId: undefined,
  before: undefined,
  recordId: 'own',
  firstResting: undefined,
  hasBrewery: true,
};

/** The fields refused, each with its words. */
const refused = (entry: RecordEntry, context: Partial<EntryContext> = {}) =>
  refusals(entry, { ...known, ...context }).map(({ path, message }) => `${path}: ${message}`);

const pitch: EntryOf<'pitch'> = {
  ...{ kind: 'pitch', happenedAt: at(51), by, fermentId: 'gyle', lotId: 'lot', amountKg: 3 },
};
const crop: EntryOf<'crop'> = {
  ...{ kind: 'crop', happenedAt: at(90), by, fermentId: 'gyle', cut: 'skim 2', amountKg: 8 },
};
const fresh: EntryOf<'freshCulture'> = {
  ...{ kind: 'freshCulture', happenedAt: at(0), by, strainId: 'tern' },
  ...{ origin: 'bought', generation: 0, amountL: 20 },
};
const collected = aFerment({ vesselId: 'fv1', strainId: 'tern' });

test('a brewery is set up once, and corrected after', () => {
  expect(refused(aBrewery())).toEqual(['kind: The brewery is set up already: correct it instead']);
  expect(refused(aBrewery(), { isCorrection: true })).toEqual([]);
  expect(refused(aBrewery(), { hasBrewery: false })).toEqual([]);
});

test('an FV holds one gyle at a time, and a correction of that gyle may leave it there', () => {
  const running = { gyle: '412', happenedMs: ms(0), rackedMs: null };
  const neighbours = { vessel: 'FV1', running, before: running, next: undefined };
  const full = ['vesselId: FV1 still holds gyle 412: record its racking first'];
  expect(refused(collected, { neighbours })).toEqual(full);
  expect(refused(collected, { neighbours, before: { ...collected, vesselId: 'fv2' } })).toEqual(
    full,
  );
  expect(refused(collected, { neighbours, before: collected })).toEqual([]);
});

test('a gyle is racked before the next one is collected into its FV', () => {
  const next = { gyle: '414', happenedMs: ms(200), rackedMs: null };
  const neighbours = { vessel: 'FV1', running: undefined, before: undefined, next };
  const rack = (hours: number): EntryOf<'rack'> => ({
    ...{ kind: 'rack', happenedAt: at(hours), by, fermentId: 'gyle' },
    batches: ['B-412'],
  });
  expect(refused(rack(200), { neighbours })).toEqual([]);
  expect(refused(rack(201), { neighbours })).toEqual([
    'happenedAt: FV1 already held gyle 414 then: enter when this one was racked',
  ]);
});

test('a gyle that was cropped, or a culture that was used, keeps its strain', () => {
  const before = { ...collected, strainId: 'fulmar' };
  const cropped = { before, ferment: { ...ferment, hasCrops: true } };
  expect(refused(collected, cropped)).toEqual([
    'strainId: The strain stays: a crop was already taken',
  ]);
  expect(refused(collected, { before })).toEqual([]);
  const used = (isUsed: boolean) =>
    refused(fresh, {
      before: { ...fresh, strainId: 'fulmar' },
      lots: new Map([['own', { ...lot, isUsed }]]),
    });
  expect(used(true)).toEqual(['strainId: The strain stays: this lot has already been used']);
  expect(used(false)).toEqual([]);
});

test('nothing is pitched into a gyle once it is racked, though such a pitch may be corrected', () => {
  const racked = { ferment: { ...ferment, rackedMs: ms(200) } };
  const late = { ...pitch, happenedAt: at(201) };
  expect(refused(late, racked)).toEqual(['fermentId: Gyle 413 was already racked then']);
  expect(refused(late, { ...racked, isCorrection: true })).toEqual([]);
  // Pitched before it was racked, and written down after.
  expect(refused(pitch, racked)).toEqual([]);
});

test('yeast of another strain is pitched only for a reason', () => {
  const other = { ferment: { ...ferment, strainId: 'fulmar' } };
  expect(refused(pitch, other)).toEqual([
    'override: Lot TN-412A is of another strain than the gyle: say why it is pitched all the same',
  ]);
  expect(refused({ ...pitch, override: 'no other yeast' }, other)).toEqual([]);
});

test('a correction keeps the reason a held lot was pitched for, and needs one for another lot', () => {
  const held = (before: RecordEntry) =>
    refused(pitch, { held: new Map([['lot', 'odd smell']]), before, isCorrection: true });
  const asked = [
    'override: Lot TN-412A is on hold (odd smell): say why it is pitched all the same',
  ];
  expect(held({ ...pitch, override: 'smelt again' })).toEqual(asked);
  expect(held({ ...pitch, lotId: 'second' })).toEqual(asked);
  // It was pitched before the hold, when no reason was asked for.
  expect(held({ ...pitch, amountKg: 4 })).toEqual([]);
});

test('a correction keeps the reason yeast was washed for against the rules', () => {
  const wash: EntryOf<'treatment'> = {
    ...{ kind: 'treatment', happenedAt: at(60), by, lotId: 'lot', treatment: 'acid wash' },
    ...{ agent: 'phosphoric acid', ph: 2.2, tempC: 3, minutes: 60 },
  };
  const washed = (
    before: RecordEntry | undefined,
    washObjections = ['it ferments a strong beer'],
  ) => refused(wash, { before, washObjections });
  expect(washed(undefined)).toEqual([
    expect.stringContaining('should not be acid washed, for it ferments a strong beer'),
  ]);
  expect(washed({ ...wash, override: 'bacteria seen' })).toHaveLength(1);
  expect(washed(wash)).toEqual([]);
  expect(washed(undefined, [])).toEqual([]);
});

test('each lot of a blend is named once, and all are of one strain', () => {
  const blend = (...ids: string[]): EntryOf<'blend'> => ({
    ...{ kind: 'blend', happenedAt: at(60), by, amountKg: 4 },
    parents: ids.map((lotId) => ({ lotId, amountKg: 2 })),
  });
  expect(refused(blend('lot', 'second'))).toEqual([]);
  expect(refused(blend('lot', 'lot'))).toEqual([
    'parents.1.lotId: Each lot of a blend is named once',
  ]);
  expect(refused(blend('second', 'lot'), { recordId: 'lot' })).toEqual([
    'parents.1.lotId: Each lot of a blend is named once',
  ]);
  const lots = new Map([...known.lots, ['second', { ...lot, strainId: 'fulmar' }]]);
  expect(refused(blend('lot', 'second'), { lots })).toEqual([
    'parents: Lots of two strains are not blended',
  ]);
});

test('nothing happens to yeast or a gyle before it is there', () => {
  const pitched = { ferment: { ...ferment, pitchedMs: ms(51) } };
  expect(refused({ ...crop, happenedAt: at(50.5) }, pitched)).toEqual([
    'happenedAt: Gyle 413 was not yet pitched then',
  ]);
  expect(refused(crop, pitched)).toEqual([]);
  expect(refused({ ...pitch, happenedAt: at(49) })).toEqual([
    'happenedAt: Gyle 413 was not yet collected then',
  ]);
  const warm = { kind: 'storeReading' as const, by, lotId: 'lot', tempC: 3 };
  expect(refused({ ...warm, happenedAt: at(43) })).toEqual([
    'happenedAt: Lot TN-412A was not yet there then',
  ]);
  expect(refused({ ...warm, happenedAt: at(44) })).toEqual([]);
});

test('what a gyle is collected and pitched for may happen at the very moment of it', () => {
  expect(refused({ ...pitch, happenedAt: at(50) })).toEqual([]);
  const pitched = { ferment: { ...ferment, pitchedMs: ms(51) } };
  expect(refused({ ...crop, happenedAt: at(51) }, pitched)).toEqual([]);
});

test('a record may be as late as what first rests on it, and no later', () => {
  const rests = (hours: number) =>
    refused(crop, {
      ferment: { ...ferment, pitchedMs: ms(51) },
      firstResting: { atMs: ms(hours), what: 'stained' },
    });
  expect(rests(90)).toEqual([]);
  expect(rests(89)).toEqual(['happenedAt: The lot was stained before then: put that right first']);
});

test('a correction that leaves its time stands, though what rests on the record came before it', () => {
  const firstResting = { atMs: ms(45), what: 'cropped' as const };
  const early = 'happenedAt: The gyle was cropped before then: put that right first';
  expect(refused(pitch, { firstResting, before: pitch })).toEqual([]);
  expect(refused({ ...pitch, amountKg: 4 }, { firstResting, before: pitch })).toEqual([]);
  expect(refused(pitch, { firstResting, before: { ...pitch, happenedAt: at(44) } })).toEqual([
    early,
  ]);
  // A first entry was not there before: it is judged by its time.
  expect(refused(pitch, { firstResting })).toEqual([early]);
});

test('the hold of a family is lifted once, and not before it began', () => {
  const lift: EntryOf<'familyRelease'> = {
    ...{ kind: 'familyRelease', happenedAt: at(60), by, holdId: 'hold', why: 'clear' },
  };
  const lifted = (familyHold: EntryContext['familyHold']) => refused(lift, { familyHold });
  expect(lifted({ happenedMs: ms(50), releaseId: null })).toEqual([]);
  expect(lifted({ happenedMs: ms(50), releaseId: 'own' })).toEqual([]);
  expect(lifted({ happenedMs: ms(50), releaseId: 'other' })).toEqual([
    'holdId: This hold is lifted already',
  ]);
  expect(lifted({ happenedMs: ms(61), releaseId: null })).toEqual([
    'happenedAt: It was not yet on hold then',
  ]);
});

test('what an entry names must be in the log', () => {
  expect(refused(fresh, { strain: undefined })).toEqual([
    'strainId: There is no such strain in the log',
  ]);
  expect(refused(collected, { vessel: undefined })).toEqual([
    'vesselId: There is no such fermenter in the log',
  ]);
  const read: EntryOf<'microResult'> = {
    ...{ kind: 'microResult', happenedAt: at(60), by, checkId: 'plate', outcome: 'clear' },
  };
  expect(refused(read)).toEqual(['checkId: There is no such check in the log']);
  expect(refused(aStrain())).toEqual([]);
});

// Five minutes for clocks that differ; nothing was written down here before 1 January 2000.
test('timeRefusals(time, now) allows five minutes ahead, and nothing before 2000', () => {
  const told = (minutes: number) =>
    timeRefusals(new Date(ms(0) + minutes * 60_000).toISOString(), ms(0)).length;
  expect([0, 5, 5 + 1 / 60_000, 6].map(told)).toEqual([0, 0, 1, 1]);
  expect(timeRefusals('1999-12-31T23:59:59.000Z', ms(0))).toHaveLength(1);
  expect(timeRefusals('2000-01-01T00:00:00.000Z', ms(0))).toEqual([]);
});
