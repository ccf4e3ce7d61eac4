import { expect, test } from 'vitest';
import type { Entry } from '#shared/entries/entry.ts';
import type { FermentStanding } from '#shared/views/ferments.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { StrainView } from '#shared/views/recorded.ts';
import type { Setup } from '#shared/views/setup.ts';
import { addWaiting, lessCollected } from '../../../web/outbox/addWaiting.ts';
import type { WaitingEntry } from '../../../web/outbox/waitingEntry.ts';

const id = (nth: number) => `0195502c-0000-7000-8000-${String(nth).padStart(12, '0')}`;
const nowMs = Date.parse('2026-03-02T12:00:00Z');
const made = { happenedAt: '2026-03-02T08:00:00Z', by: 'Ines' };
const strain: StrainView = {
  ...made,
  kind: 'strain',
  id: id(1),
  entryId: id(1),
  seq: 1,
  receivedAt: made.happenedAt,
  corrected: false,
  name: 'Tern',
  code: 'TN',
  crops: 'top',
  rateMillionPerMlPerPlato: 0.75,
  tempLowC: 18,
  tempHighC: 21,
  maxGenerations: 10,
  maxStorageDays: 6,
  storeLowC: 1,
  storeHighC: 4,
  minViabilityPercent: 90,
  staleCountHours: 24,
  leadTimeDays: 12,
};
const kept = { entryId: id(2), seq: 2, receivedAt: made.happenedAt, corrected: false };
const setup: Setup = {
  brewery: null,
  strains: [strain],
  vessels: [{ ...made, ...kept, kind: 'vessel', id: id(2), name: 'FV1', holds: null }],
  plannedBrews: [],
  notBrewed: [],
  media: [],
  sites: [],
  homeId: null,
  siteId: null,
};

const queue = (...entries: Entry[]): WaitingEntry[] =>
  entries.map((entry, at) => ({
    seq: at + 1,
    id: id(at + 11),
    entry,
    author: 'ines',
    authorName: 'Ines',
    madeMs: nowMs,
    clockFastMs: null,
    after: [],
    page: { href: '/', title: 'Today' },
    tries: 0,
  }));
const culture: Entry = {
  ...made,
  kind: 'freshCulture',
  strainId: strain.id,
  origin: 'bought',
  generation: 0,
  amountL: 6,
};
const told: { lots: LotStanding[]; ferments: FermentStanding[]; setup: Setup } = {
  lots: [],
  ferments: [],
  setup,
};

test('a fresh culture that waits is a lot at once, the end of its code left open', () => {
  const [lot] = addWaiting(told, queue(culture), nowMs).lots;
  expect(lot).toMatchObject({ id: id(11), code: 'TN-F…', generation: 0, left: 6, unit: 'L' });
  expect(lot?.lineId).toBe(id(11));
});

test('a blend of lots that wait is one too, and takes its parts out of them', () => {
  const second: Entry = { ...culture, code: 'OWN-2', generation: 3 };
  const blend: Entry = {
    ...made,
    kind: 'blend',
    parents: [
      { lotId: id(11), amountL: 2 },
      { lotId: id(12), amountL: 6 },
    ],
    amountL: 8,
  };
  const { lots } = addWaiting(told, queue(culture, second, blend), nowMs);
  expect(lots.map(({ code, generation, left }) => [code, generation, left])).toEqual([
    ['TN-B…', 3, 8],
    ['OWN-2', 3, 0],
    ['TN-F…', 0, 4],
  ]);
});

test('a gyle pitched on the device does not say it is not pitched', () => {
  const gyle: Entry = {
    ...made,
    kind: 'ferment',
    gyle: '413',
    beer: 'Low Water Mild',
    vesselId: id(2),
    strainId: strain.id,
    volumeL: 1000,
    originalGravitySg: 1.036,
  };
  const pitch: Entry = { ...made, kind: 'pitch', fermentId: id(12), lotId: id(11), amountL: 5 };
  const [ferment] = addWaiting(told, queue(culture, gyle, pitch), nowMs).ferments;
  expect(ferment).toMatchObject({ state: 'fermenting', generation: 0, vessel: 'FV1' });
  expect(ferment?.flag.why).toMatch(/waits on this device/);
});

test('a gyle that waits takes its planned brew off the list, by its id or by beer and day', () => {
  const brew = (nth: number, onDay: string) => ({
    ...{ ...made, ...kept, kind: 'plannedBrew' as const, id: id(nth), onDay, beer: 'Mild' },
    ...{ volumeL: 1000, originalGravitySg: 1.036, strainId: strain.id },
  });
  const notBrewed = [brew(31, '2026-02-20')];
  const plannedBrews = [brew(32, '2026-03-02'), brew(33, '2026-03-04')];
  const gyle = (gyleNumber: string, plannedBrewId?: string | null): Entry => ({
    ...{ ...made, kind: 'ferment', gyle: gyleNumber, beer: 'Mild', vesselId: id(2) },
    ...{ strainId: strain.id, volumeL: 1000, originalGravitySg: 1.036 },
    ...(plannedBrewId === undefined ? {} : { plannedBrewId }),
  });
  const left = (...entries: Entry[]) => {
    const after = lessCollected({ ...setup, notBrewed, plannedBrews }, queue(...entries));
    return [...after.notBrewed, ...after.plannedBrews].map((each) => each.id);
  };
  expect(left(gyle('413', id(31)))).toEqual([id(32), id(33)]);
  expect(left(gyle('413'))).toEqual([id(31), id(33)]);
  expect(left(gyle('413', null))).toEqual([id(31), id(32), id(33)]);
});
