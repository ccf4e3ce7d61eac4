import { expect, test } from 'vitest';
import { hourMs } from '#shared/durations.ts';
import type { Entry } from '#shared/entries/entry.ts';
import { isOneOf, mayStrikeOut, refusalToWrite } from '#shared/permissions.ts';
import type { Role } from '#shared/roles.ts';
import { at } from '#tests/support/brewery.ts';

const person = (userName: string, ...roles: Role[]) => ({ userName, roles });
const reading: Entry = {
  ...{ kind: 'reading', happenedAt: at(0), by: 'Maeve', fermentId: 'gyle', gravitySg: 1.03 },
};
const pitch: Entry = {
  ...{ kind: 'pitch', happenedAt: at(0), by: 'Tom', fermentId: 'gyle', lotId: 'lot', amountKg: 3 },
};
const striking: Entry = {
  ...{ kind: 'void', happenedAt: at(0), by: 'Tom', supersedes: 'entry', reason: 'twice' },
};

const first = { corrected: undefined, nowMs: 0 };
/** Of an entry that maeve wrote down so many hours ago. */
const correcting = (hours: number, actor = 'maeve') => ({
  corrected: { actor, recordReceivedMs: 5 * hourMs },
  nowMs: (5 + hours) * hourMs,
});

test('whoever may write a kind of entry is not refused, and others are told which roles may', () => {
  expect(refusalToWrite(person('maeve', 'cellar'), reading, first)).toBe(undefined);
  expect(refusalToWrite(person('vic', 'viewer'), reading, first)).toBe(
    'Writing this down needs the role cellar or lab or brewer or head; yours is viewer.',
  );
  expect(refusalToWrite(person('jory', 'cellar', 'lab'), pitch, first)).toBe(
    'Writing this down needs the role brewer or head; yours is cellar and lab.',
  );
  expect(refusalToWrite(person('wyn'), reading, first)).toContain('you hold none for this.');
});

test('one role of several is enough', () => {
  expect(isOneOf(person('both', 'viewer', 'brewer'), ['brewer', 'head'])).toBe(true);
  expect(isOneOf(person('both', 'viewer', 'cellar'), ['brewer', 'head'])).toBe(false);
  expect(refusalToWrite(person('both', 'viewer', 'brewer'), pitch, first)).toBe(undefined);
});

// The rule of the house: one's own, for 24 hours from when its record was written down.
test('one’s own entry is corrected until 24 hours after its record, and not from then on', () => {
  const maeve = person('maeve', 'cellar');
  for (const hours of [0, 12, 23.999])
    expect(refusalToWrite(maeve, reading, correcting(hours)), `${hours} h`).toBe(undefined);
  for (const hours of [24, 24.001, 300])
    expect(refusalToWrite(maeve, reading, correcting(hours)), `${hours} h`).toBe(
      'Correcting an entry after 24 hours needs the role head.',
    );
});

test('what another wrote is corrected by a head brewer alone, at any time', () => {
  const wrong = 'Correcting what another wrote needs the role head.';
  expect(refusalToWrite(person('jory', 'lab'), reading, correcting(1))).toBe(wrong);
  expect(refusalToWrite(person('tom', 'brewer'), reading, correcting(1))).toBe(wrong);
  expect(refusalToWrite(person('ines', 'head'), reading, correcting(1))).toBe(undefined);
  expect(refusalToWrite(person('ines', 'head'), reading, correcting(3000))).toBe(undefined);
});

test('correcting takes the role for the kind too, though the entry is one’s own', () => {
  expect(refusalToWrite(person('maeve', 'viewer'), reading, correcting(1))).toContain(
    'Writing this down needs the role',
  );
});

test('pitching all the same needs a head brewer; a pitch without such a word does not', () => {
  const override = { ...pitch, override: 'no other yeast' };
  const tom = person('tom', 'brewer');
  expect(refusalToWrite(tom, pitch, first)).toBe(undefined);
  expect(refusalToWrite(tom, override, first)).toBe('Pitching all the same needs the role head.');
  expect(refusalToWrite(person('ines', 'head'), override, first)).toBe(undefined);
});

// Else a brewer would mix it into a blend, which is not on hold, and pitch that.
test('mixing a held lot into a blend needs a head brewer as pitching it does', () => {
  const blend: Entry = {
    ...{ kind: 'blend', happenedAt: at(0), by: 'Tom', amountKg: 4 },
    parents: [
      { lotId: 'one', amountKg: 2 },
      { lotId: 'two', amountKg: 2 },
    ],
  };
  const override = { ...blend, override: 'half of it is sound' };
  const tom = person('tom', 'brewer');
  expect(refusalToWrite(tom, blend, first)).toBe(undefined);
  expect(refusalToWrite(tom, override, first)).toBe(
    'Mixing it in all the same needs the role head.',
  );
  expect(refusalToWrite(person('ines', 'head'), override, first)).toBe(undefined);
});

test('striking out needs a head brewer, also of one’s own entry a minute old', () => {
  for (const role of ['viewer', 'cellar', 'lab', 'brewer'] as const) {
    expect(mayStrikeOut(person('maeve', role)), role).toBe(false);
    expect(refusalToWrite(person('maeve', role), striking, correcting(0.01)), role).toBe(
      'Striking an entry out needs the role head.',
    );
  }
  expect(mayStrikeOut(person('ines', 'head'))).toBe(true);
  expect(refusalToWrite(person('ines', 'head'), striking, correcting(1))).toBe(undefined);
});
