import { expect, test } from 'vitest';
import type { Attempt } from '../../web/components/form/drafts.ts';
import { decimal, text } from '../../web/components/form/fields.ts';
import {
  arrivedUnheard,
  type EntryMaking,
  entriesOf,
} from '../../web/components/form/formEntries.ts';
import {
  afterRefusal,
  allSaved,
  openEntries,
  withSaved,
} from '../../web/components/form/sentEntries.ts';

const lots = ['0195502c-0000-7000-8000-000000000001', '0195502c-0000-7000-8000-000000000002'];
const fields = { first: decimal({ label: 'First' }), second: decimal({ label: 'Second' }) };

/** Temperatures of two lots, written as two entries. */
const making: EntryMaking<typeof fields> = {
  fields,
  entry: ({ first, second }) =>
    [first, second].map((tempC, nth) => ({ kind: 'storeReading', lotId: lots[nth], tempC })),
  which: (draft) => ('lotId' in draft ? (draft.lotId ?? '') : ''),
};

function attempted(
  typed: { first: string; second: string },
  before?: Attempt,
  over?: { which: string; entryId: string },
  by = making,
): Attempt {
  const asked = { when: 'now', whenText: '', by: 'Ines', ...typed };
  const made = entriesOf(by, fields, asked, { before, over });
  if ('problems' in made) throw new Error(JSON.stringify(made.problems));
  return made.attempt;
}
const idsOf = ({ entries }: Attempt) => entries.map(({ id }) => id);

test('the same words again are the same attempt, with their moment', () => {
  const before = attempted({ first: '3', second: '4' });
  expect(attempted({ first: '3', second: '4' }, before)).toBe(before);
});

test('an entry changed after its answer was lost keeps its id, and the others are sent as they were', () => {
  const before = attempted({ first: '3', second: '4' });
  const changed = attempted({ first: '3', second: '5' }, before);
  expect(idsOf(changed)).toEqual(idsOf(before));
  expect(changed.entries[0]).toBe(before.entries[0]);
  expect(changed.entries[1]?.entry).toMatchObject({ tempC: 5 });
});

test('what is saved over an entry that had arrived corrects it alone, and goes on doing so', () => {
  const before = attempted({ first: '3', second: '4' });
  const entryId = before.entries[1]?.id ?? '';
  const over = attempted({ first: '3', second: '5' }, before, { which: lots[1] ?? '', entryId });
  expect(over.entries[0]).toBe(before.entries[0]);
  expect(over.entries[1]?.id).not.toBe(entryId);
  expect(over.entries[1]?.entry).toMatchObject({ supersedes: entryId, reason: arrivedUnheard });
  const changed = attempted({ first: '3', second: '6' }, over);
  expect(changed.entries[1]?.id).toBe(over.entries[1]?.id);
  expect(changed.entries[1]?.entry).toMatchObject({ tempC: 6, supersedes: entryId });
});

test('after a refusal what was taken stays as it is, and the rest goes again corrected under its id', () => {
  // What an entry is known by leaves out what was wrong with it, as the reason why a lot is pitched.
  const known: EntryMaking<typeof fields> = {
    ...making,
    identity: (draft) => ('lotId' in draft ? (draft.lotId ?? '') : ''),
  };
  const first = attempted({ first: '3', second: '4' }, undefined, undefined, known);
  const [one, two] = first.entries;
  if (one === undefined || two === undefined) throw new Error('Two entries are made.');
  const answer = { id: one.id, recordId: one.id, kind: one.entry.kind, warnings: ['Look again'] };
  const refused = afterRefusal(withSaved(first, [answer]));
  const again = attempted({ first: '3', second: '5' }, refused, undefined, known);
  expect(openEntries(again).map(({ id, entry }) => [id, entry])).toEqual([
    [two.id, expect.objectContaining({ tempC: 5 })],
  ]);
  const last = { ...answer, id: two.id, recordId: two.id, warnings: [] };
  expect(allSaved(again, [last])).toEqual([answer, last]);
});

test('an entry that was taken and is changed since is sent again, for both versions to be seen', () => {
  const first = attempted({ first: '3', second: '4' });
  const [one] = first.entries;
  if (one === undefined) throw new Error('Two entries are made.');
  const answer = { id: one.id, recordId: one.id, kind: one.entry.kind, warnings: [] };
  const refused = afterRefusal(withSaved(first, [answer]));
  const again = attempted({ first: '2', second: '4' }, refused);
  expect(openEntries(again)[0]).toMatchObject({ id: one.id, entry: { tempC: 2 } });
});

test('the same words after a refusal are tried anew', () => {
  const first = attempted({ first: '3', second: '4' });
  const again = attempted({ first: '3', second: '4' }, afterRefusal(first));
  expect(idsOf(again)).toEqual(idsOf(first));
  expect(openEntries(again)).toHaveLength(2);
});

test('an amount left out is told together with what else is left out', () => {
  const asked = { amount: decimal({ label: 'Amount' }), why: text({ label: 'Reason' }) };
  const discard: EntryMaking<typeof asked> = {
    fields: asked,
    entry: ({ amount: amountKg, why }) => ({ kind: 'discard', lotId: lots[0], amountKg, why }),
  };
  const typed = { when: 'now', whenText: '', by: 'Ines', amount: '', why: '' };
  const made = entriesOf(discard, asked, typed, { before: undefined });
  expect(made).toEqual({
    problems: expect.arrayContaining([
      { name: 'amount', message: 'Enter the amount' },
      { name: 'why', message: 'Enter the reason' },
    ]),
  });
});
