import { minuteMs } from '#shared/durations.ts';
import { platoFromSg } from '#shared/science/gravity.ts';
import { logNormalLimits, logNormalSum } from '#shared/science/logNormalSum.ts';
import { lotContribution } from '#shared/science/lotContribution.ts';
import type { Calendar } from './calendar.ts';
import type { Curve } from './curve.ts';
import type { Beer, Strain, Vessel } from './house.ts';
import { people } from './house.ts';
import { type Log, rounded, stamp } from './log.ts';
import { type Lot, livingCellsPerUnit, type Store, viabilityAt } from './lots.ts';
import { seeded } from './seeded.ts';

/** Everything the pieces of the story share. */
export type Brewhouse = { log: Log; calendar: Calendar; store: Store };

export type Ferment = {
  id: string;
  gyle: string;
  beer: Beer;
  strain: Strain;
  vessel: Vessel;
  volumeL: number;
  originalGravitySg: number;
  pitchedMs: number;
  generation: number;
  /** Living cells that truly went in. */
  livingCells: number;
  curve: Curve;
};

export type Wort = Pick<Ferment, 'gyle' | 'beer' | 'strain' | 'vessel'> & {
  collectedMs: number;
  oxygenMgPerL?: number;
  note?: string;
  /** The planned brew it carries out; null for none. */
  plannedBrewId?: string | null;
};

/** Collects a wort; it is pitched by `pitchInto`. */
export function collect({ log }: Brewhouse, wort: Wort) {
  const chance = seeded(`wort ${wort.gyle}`);
  const volumeL = Math.round(wort.vessel.brewLengthL * chance.between(0.965, 0.998));
  const originalGravitySg = rounded(wort.beer.originalGravitySg + chance.normal(0, 0.0004), 2000);
  const oxygenMgPerL = rounded(wort.oxygenMgPerL ?? chance.between(7.6, 9.8), 10);
  const zincMgPerL = rounded(chance.between(0.12, 0.26), 100);
  const fanMgPerL = Math.round(chance.between(158, 192));
  const isAnalysed = chance.uniform() < 0.35;
  const id = log.write({
    kind: 'ferment',
    ...stamp(wort.collectedMs, people.brewer),
    gyle: wort.gyle,
    beer: wort.beer.name,
    vesselId: wort.vessel.id,
    strainId: wort.strain.id,
    volumeL,
    originalGravitySg,
    setTempC: wort.beer.setTempC,
    oxygenMgPerL,
    ...(isAnalysed ? { zincMgPerL, fanMgPerL } : {}),
    ...(wort.note === undefined ? {} : { note: wort.note }),
    ...(wort.plannedBrewId === undefined ? {} : { plannedBrewId: wort.plannedBrewId }),
  });
  return { id, volumeL, originalGravitySg };
}

/** Living cells that a brew of a fermenter's size will want. */
export const cellsWanted = (
  strain: Strain,
  { volumeL, originalGravitySg }: { volumeL: number; originalGravitySg: number },
) => strain.rateMillionPerMlPerPlato * 1e6 * platoFromSg(originalGravitySg) * volumeL * 1000;

export type Pitched = { livingCells: number; expectedCells: number; generation: number };

/** Pitches lots in the order given until the wort has what it wants. */
export function pitchInto(
  { log, store }: Brewhouse,
  fermentId: string,
  { lots, cells, ms, note }: { lots: readonly Lot[]; cells: number; ms: number; note?: string },
): Pitched {
  const pitched = { livingCells: 0, expectedCells: 0, generation: 0 };
  lots.forEach((lot, index) => {
    const perUnit = livingCellsPerUnit(lot);
    const lacking = Math.max(0, cells - pitched.expectedCells);
    const amount = Math.min(lot.left, Math.ceil((lacking / perUnit) * 10) / 10);
    if (amount <= 0) return;
    log.write({
      kind: 'pitch',
      ...stamp(ms + index * 4 * minuteMs, people.brewer),
      fermentId,
      lotId: lot.id,
      ...store.draw(lot, amount),
      ...expected(lot, amount),
      ...(note === undefined ? {} : { note }),
    });
    pitched.expectedCells += amount * perUnit;
    pitched.livingCells += amount * 1000 * lot.cellsPerGOrMl * viabilityAt(lot, ms);
    pitched.generation = Math.max(pitched.generation, lot.generation);
  });
  return pitched;
}

/** A guess is worth a third either way, a count what it says. */
const guessed = { concentrationLogSd: 0.28, viabilityLogSd: 0.03 } as const;

function expected(lot: Lot, amount: number) {
  const known = lot.known ?? {
    ...guessed,
    cellsPerGOrMl: lot.strain.cellsPerGOrMl,
    viability: lot.viability,
  };
  const cells = lotContribution(
    {
      ...known,
      unit: lot.unit,
      cellsPerG: known.cellsPerGOrMl,
      cellsPerMl: known.cellsPerGOrMl,
    },
    amount,
  );
  const { low, high } = logNormalLimits(logNormalSum([cells]));
  return {
    expectedViableCells: Number(cells.median.toPrecision(4)),
    expectedLowCells: Number(low.toPrecision(4)),
    expectedHighCells: Number(high.toPrecision(4)),
  };
}
