import { hourMs } from '#shared/durations.ts';
import type { EntryOf } from '#shared/entries/entry.ts';
import { gravityAt } from './curve.ts';
import type { Brewhouse, Ferment } from './ferment.ts';
import { people, type Strain } from './house.ts';
import { rounded, stamp } from './log.ts';
import { amountIn, type Lot } from './lots.ts';
import { seeded } from './seeded.ts';

const freshViability = 0.976;

export type Skim = {
  ms: number;
  cut: EntryOf<'crop'>['cut'];
  /** Living cells kept for each one pitched. */
  ratio: number;
  weariness?: number;
  /** Cells against the usual crop; thin slurry is below 1. */
  thickness?: number;
  look?: string;
  smell?: string;
  note?: string;
};

/** Skims a ferment into a lot. */
export function skim({ log, store }: Brewhouse, ferment: Ferment, facts: Skim): Lot {
  const { strain, gyle } = ferment;
  const { weariness = 0 } = facts;
  const code = store.freeCode({ kind: 'crop', strainCode: strain.code, gyle });
  const chance = seeded(`skim ${code}`);
  const thickness = facts.thickness ?? Math.exp(chance.normal(0, 0.07));
  const cellsPerGOrMl = strain.cellsPerGOrMl * thickness;
  const viability = freshViability - 0.013 * weariness + chance.normal(0, 0.004);
  const kept = facts.ratio * (1 - 0.08 * weariness) * Math.exp(chance.normal(0, 0.07));
  const amount = rounded((ferment.livingCells * kept) / (cellsPerGOrMl * viability * 1000), 10);
  const hours = (facts.ms - ferment.pitchedMs) / hourMs;
  const id = log.write({
    kind: 'crop',
    ...stamp(facts.ms, people.cellar),
    fermentId: ferment.id,
    cut: facts.cut,
    gravitySg: rounded(gravityAt(ferment.curve, hours), 2000),
    code,
    ...amountIn(strain.unit, amount),
    container: strain.unit === 'kg' ? `Bin ${chance.pick(1, 2, 3, 4, 5)}` : 'Yeast back',
    place: 'Cold store',
    look: facts.look ?? chance.pick('firm, cream-coloured', 'rocky head, clean', 'smooth, pale'),
    smell: facts.smell ?? chance.pick('fresh, fruity', 'clean', 'bready'),
    ...(facts.note === undefined ? {} : { note: facts.note }),
  });
  return {
    id,
    code,
    strain,
    unit: strain.unit,
    takenMs: facts.ms,
    generation: ferment.generation + 1,
    left: amount,
    cellsPerGOrMl,
    viability,
    known: undefined,
  };
}

/** Brings in a fresh culture with the living cells a first brew wants, and a little over. */
export function freshCulture(
  { log, store }: Brewhouse,
  strain: Strain,
  facts: { ms: number; cells: number; origin: 'bought' | 'propagation'; note?: string },
): Lot {
  const code = store.freeCode({ kind: 'freshCulture', strainCode: strain.code });
  const cellsPerGOrMl = 1.1e9 * Math.exp(seeded(`fresh ${code}`).normal(0, 0.05));
  const viability = 0.985;
  const amount = Math.ceil((1.15 * facts.cells) / (cellsPerGOrMl * viability * 1000));
  const isBought = facts.origin === 'bought';
  const id = log.write({
    kind: 'freshCulture',
    ...stamp(facts.ms, people.head),
    strainId: strain.id,
    origin: facts.origin,
    supplier: isBought ? 'Ruddock Culture Bank' : `Slope ${strain.code}, three steps in wort`,
    generation: 0,
    code,
    amountL: amount,
    container: isBought ? 'Keg' : 'Propagation can',
    place: 'Cold store',
    ...(facts.note === undefined ? {} : { note: facts.note }),
  });
  return {
    id,
    code,
    strain,
    unit: 'L',
    takenMs: facts.ms,
    generation: 0,
    left: amount,
    cellsPerGOrMl,
    viability,
    known: undefined,
  };
}

/** Puts two lots together into one bin, all of both. */
export function blendAll({ log, store }: Brewhouse, one: Lot, other: Lot, ms: number): Lot {
  const code = store.freeCode({ kind: 'blend', strainCode: one.strain.code });
  const amount = rounded(one.left + other.left, 10);
  const share = one.left / amount;
  const mixed = (a: number, b: number) => share * a + (1 - share) * b;
  const blend: Lot = {
    ...one,
    id: '',
    code,
    takenMs: ms,
    generation: Math.max(one.generation, other.generation),
    left: amount,
    cellsPerGOrMl: mixed(one.cellsPerGOrMl, other.cellsPerGOrMl),
    viability: mixed(one.viability, other.viability),
    known: undefined,
  };
  const parents = [one, other].map((lot) => ({ lotId: lot.id, ...store.draw(lot, lot.left) }));
  blend.id = log.write({
    kind: 'blend',
    ...stamp(ms, people.cellar),
    parents,
    code,
    ...amountIn(one.unit, amount),
    container: 'Bin 6',
    place: 'Cold store',
  });
  return blend;
}
