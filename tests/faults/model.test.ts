import fc from 'fast-check';
import { expect, test } from 'vitest';
import { verifyChain } from '#db/journal/chain.ts';
import { record } from '#db/journal/journal.ts';
import { projectionDump, rebuild } from '#db/safety/upkeep.ts';
import type { Entry } from '#shared/entries/entry.ts';
import { DomainError } from '#shared/errors.ts';
import { aFerment, aStrain, at, freshDatabase, nextId } from '#tests/support/brewery.ts';
import { times } from './rig.ts';

const by = 'Ines';
const brewDay = 10;
const endHours = 10_000;

/** What a brewery would know from its own notebook. */
type Lot = { amount: number; generation: number; gyle: string | null };
type Gyle = { strain: string; vessel: string; rackedAt: string | null };
type Pitch = { lot: string; gyle: string; amount: number; inForce: string; happenedAt: string };
type Notebook = {
  lots: Map<string, Lot>;
  gyles: Map<string, Gyle>;
  pitches: Map<string, Pitch>;
  discards: Map<string, { lot: string; amount: number; inForce: string }>;
  vessels: string[];
  strain: string;
};

type Step =
  | { do: 'buy'; amount: number; generation: number }
  | { do: 'collect'; vessel: number }
  | { do: 'pitch'; lot: number; gyle: number; amount: number; isLate: boolean }
  | { do: 'crop'; gyle: number; amount: number }
  | { do: 'discard'; lot: number; amount: number }
  | { do: 'correct pitch'; pitch: number; amount: number }
  | { do: 'void pitch'; pitch: number }
  | { do: 'void discard'; discard: number }
  | { do: 'rack'; gyle: number };

const which = fc.nat(20);
const litres = fc.integer({ min: 1, max: 12 });
const step: fc.Arbitrary<Step> = fc.oneof(
  fc.record({ do: fc.constant('buy' as const), amount: litres, generation: fc.nat(3) }),
  fc.record({ do: fc.constant('collect' as const), vessel: which }),
  fc.record({
    do: fc.constant('pitch' as const),
    lot: which,
    gyle: which,
    amount: litres,
    isLate: fc.boolean(),
  }),
  fc.record({ do: fc.constant('crop' as const), gyle: which, amount: litres }),
  fc.record({ do: fc.constant('discard' as const), lot: which, amount: litres }),
  fc.record({ do: fc.constant('correct pitch' as const), pitch: which, amount: litres }),
  fc.record({ do: fc.constant('void pitch' as const), pitch: which }),
  fc.record({ do: fc.constant('void discard' as const), discard: which }),
  fc.record({ do: fc.constant('rack' as const), gyle: which }),
);

const pick = <T>(from: Iterable<T>, n: number): T | undefined => {
  const all = [...from];
  return all[n % Math.max(1, all.length)];
};

const pitchesOf = (book: Notebook, gyle: string) =>
  [...book.pitches.values()].filter((pitch) => pitch.gyle === gyle);
const cropsOf = (book: Notebook, gyle: string) =>
  [...book.lots.values()].filter((lot) => lot.gyle === gyle);
const generationOf = (book: Notebook, id: string): number => {
  const lot = book.lots.get(id);
  if (lot === undefined || lot.gyle === null) return lot?.generation ?? 0;
  return 1 + Math.max(...pitchesOf(book, lot.gyle).map((pitch) => generationOf(book, pitch.lot)));
};
const descendsFrom = (book: Notebook, id: string, ancestor: string): boolean => {
  const lot = book.lots.get(id);
  if (id === ancestor) return true;
  if (lot === undefined || lot.gyle === null) return false;
  return pitchesOf(book, lot.gyle).some((pitch) => descendsFrom(book, pitch.lot, ancestor));
};

type Written = { entry: Entry; keep: (id: string) => void; isAllowed: boolean } | undefined;

/** The entry a step makes in this notebook, whether it may be written, and what it changes. */
function written(book: Notebook, given: Step, serial: number): Written {
  const happenedAt = at(brewDay + serial);
  switch (given.do) {
    case 'buy':
      return {
        entry: {
          kind: 'freshCulture',
          happenedAt: at(0),
          by,
          strainId: book.strain,
          origin: 'bought',
          generation: given.generation,
          amountL: given.amount,
        },
        isAllowed: true,
        keep: (id) =>
          book.lots.set(id, { amount: given.amount, generation: given.generation, gyle: null }),
      };
    case 'collect': {
      const vessel = pick(book.vessels, given.vessel) ?? '';
      const isHeld = [...book.gyles.values()].some(
        (gyle) => gyle.vessel === vessel && gyle.rackedAt === null,
      );
      return {
        entry: aFerment({
          gyle: `${serial}`,
          vesselId: vessel,
          strainId: book.strain,
          happenedAt: at(1),
        }),
        isAllowed: !isHeld,
        keep: (id) => book.gyles.set(id, { strain: book.strain, vessel, rackedAt: null }),
      };
    }
    case 'pitch': {
      const [lotId, gyleId] = [
        pick(book.lots.keys(), given.lot),
        pick(book.gyles.keys(), given.gyle),
      ];
      const [lot, gyle] = [book.lots.get(lotId ?? ''), book.gyles.get(gyleId ?? '')];
      if (lotId === undefined || gyleId === undefined || lot === undefined || gyle === undefined)
        return undefined;
      const isCycle =
        cropsOf(book, gyleId).length > 0 && lot.gyle !== null && upTo(book, lotId, gyleId);
      const pitchedAt = given.isLate && lot.gyle === null ? at(2) : happenedAt;
      return {
        entry: {
          kind: 'pitch',
          happenedAt: pitchedAt,
          by,
          fermentId: gyleId,
          lotId,
          amountL: given.amount,
        },
        // Written late, it was pitched while the gyle was still there.
        isAllowed: (gyle.rackedAt === null || pitchedAt < gyle.rackedAt) && !isCycle,
        keep: (id) =>
          book.pitches.set(id, {
            lot: lotId,
            gyle: gyleId,
            amount: given.amount,
            inForce: id,
            happenedAt: pitchedAt,
          }),
      };
    }
    case 'crop': {
      const gyleId = pick(book.gyles.keys(), given.gyle);
      if (gyleId === undefined) return undefined;
      return {
        entry: {
          kind: 'crop',
          happenedAt,
          by,
          fermentId: gyleId,
          cut: 'skim 2',
          amountL: given.amount,
        },
        isAllowed: pitchesOf(book, gyleId).length > 0,
        keep: (id) => book.lots.set(id, { amount: given.amount, generation: 0, gyle: gyleId }),
      };
    }
    case 'discard': {
      const lotId = pick(book.lots.keys(), given.lot);
      if (lotId === undefined) return undefined;
      return {
        entry: { kind: 'discard', happenedAt, by, lotId, amountL: given.amount, why: 'drain' },
        isAllowed: true,
        keep: (id) => book.discards.set(id, { lot: lotId, amount: given.amount, inForce: id }),
      };
    }
    case 'correct pitch': {
      const found = pick(book.pitches.values(), given.pitch);
      if (found === undefined) return undefined;
      return {
        entry: {
          kind: 'pitch',
          happenedAt: found.happenedAt,
          by,
          fermentId: found.gyle,
          lotId: found.lot,
          amountL: given.amount,
          supersedes: found.inForce,
          reason: 'misread',
        },
        isAllowed: true,
        keep: (id) => Object.assign(found, { amount: given.amount, inForce: id }),
      };
    }
    case 'void pitch': {
      const found = pick(book.pitches.entries(), given.pitch);
      if (found === undefined) return undefined;
      const [id, pitch] = found;
      const isLast = pitchesOf(book, pitch.gyle).length === 1;
      return {
        entry: { kind: 'void', happenedAt, by, supersedes: pitch.inForce, reason: 'never pitched' },
        isAllowed: !(isLast && cropsOf(book, pitch.gyle).length > 0),
        keep: () => book.pitches.delete(id),
      };
    }
    case 'void discard': {
      const found = pick(book.discards.entries(), given.discard);
      if (found === undefined) return undefined;
      return {
        entry: {
          kind: 'void',
          happenedAt,
          by,
          supersedes: found[1].inForce,
          reason: 'still there',
        },
        isAllowed: true,
        keep: () => book.discards.delete(found[0]),
      };
    }
    default: {
      const found = pick(book.gyles.entries(), given.gyle);
      if (found === undefined) return undefined;
      return {
        entry: { kind: 'rack', happenedAt, by, fermentId: found[0], batches: [] },
        isAllowed: found[1].rackedAt === null,
        keep: () => Object.assign(found[1], { rackedAt: happenedAt }),
      };
    }
  }
}

/** Whether a lot descends from a crop of this gyle. */
function upTo(book: Notebook, lotId: string, gyleId: string): boolean {
  return [...book.lots.entries()].some(
    ([id, lot]) => lot.gyle === gyleId && descendsFrom(book, lotId, id),
  );
}

function expected(book: Notebook) {
  return [...book.lots.entries()]
    .map(([id, lot]) => {
      const out = [...book.pitches.values(), ...book.discards.values()].filter(
        (taken) => taken.lot === id,
      );
      const left = out.reduce((rest, taken) => rest - taken.amount, lot.amount);
      return { id, generation: generationOf(book, id), left };
    })
    .sort((a, b) => (a.id < b.id ? -1 : 1));
}

const runs = times(15, 2_000);
const length = times(30, 60);

// A correction changes the amount and leaves the time, so that a refusal has one cause.
test(`${runs} made-up months of up to ${length} entries: the log says what a notebook would`, async () => {
  let entries = 0;
  let refused = 0;
  await fc.assert(
    fc.asyncProperty(
      fc.array(step, { minLength: length / 2, maxLength: length, size: 'max' }),
      async (steps) => {
        const database = await freshDatabase();
        const source = { receivedMs: Date.parse(at(endHours)), actor: 'ines', via: 'web' as const };
        const write = async (entry: Entry) => {
          const id = nextId();
          await record(database, id, entry, source);
          return id;
        };
        const strain = await write(aStrain());
        const vessels = [];
        for (const name of ['FV1', 'FV2', 'FV3'])
          vessels.push(await write({ kind: 'vessel', happenedAt: at(0), by, name }));
        const book: Notebook = {
          lots: new Map(),
          gyles: new Map(),
          pitches: new Map(),
          discards: new Map(),
          vessels,
          strain,
        };
        for (const [serial, given] of steps.entries()) {
          const next = written(book, given, serial);
          if (next === undefined) continue;
          const id = await write(next.entry).catch((error: unknown) => {
            if (error instanceof DomainError) return undefined;
            throw error;
          });
          expect({ step: given, isTaken: id !== undefined }).toEqual({
            step: given,
            isTaken: next.isAllowed,
          });
          if (id === undefined) refused += 1;
          else next.keep(id);
          entries += 1;
        }
        const { rows } = await database.execute(
          'SELECT id, generation, left_l FROM lot ORDER BY id',
        );
        expect(
          rows.map((row) => ({
            id: row.id,
            generation: row.generation,
            left: Number(row.left_l),
          })),
        ).toEqual(expected(book));
        expect(await verifyChain(database)).toMatchObject({ sound: true });
        const before = await projectionDump(database);
        await rebuild(database);
        expect(await projectionDump(database)).toEqual(before);
      },
    ),
    { numRuns: runs, seed: 20_260_302 },
  );
  console.log('model', { runs, entries, refused });
  expect(refused).toBeGreaterThan(0);
});
