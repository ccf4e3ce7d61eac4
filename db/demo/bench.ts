import { minuteMs } from '#shared/durations.ts';
import type { EntryOf } from '#shared/entries/entry.ts';
import { cellConcentration } from '#shared/science/cellCount.ts';
import { chamberRuling } from '#shared/science/chambers.ts';
import type { StainName } from '#shared/science/stains.ts';
import { viabilityFromStain } from '#shared/science/viability.ts';
import { people } from './house.ts';
import { type Log, stamp } from './log.ts';
import { type Lot, viabilityAt } from './lots.ts';
import { type Seeded, seeded } from './seeded.ts';

const chamberErrors = { chamberCv: 0.046, pipettingCv: 0.047 } as const;
/** Squares hold about 25 cells each at these [mL final per g, or parts to one part]. */
const dilutions = { kg: 350, L: 200 } as const;

/** Counts a lot on both sides of the slide, and stains it a quarter of an hour later. */
export function countAndStain(log: Log, lot: Lot, ms: number): void {
  const chance = seeded(`bench ${lot.code} ${lot.left}`);
  const count = countOf(lot, ms, chance);
  const stain = stainOf(lot, ms + 15 * minuteMs, chance);
  log.write(count);
  log.write(stain);
  const { cellsPerMl, logSd } = cellConcentration({ ...count, errors: chamberErrors });
  const { percent, low, high } = viabilityFromStain(stain);
  lot.known = {
    cellsPerGOrMl: cellsPerMl,
    concentrationLogSd: logSd ?? 0,
    viability: percent / 100,
    viabilityLogSd: Math.log(high / low) / 3.92,
  };
}

function countOf(lot: Lot, ms: number, chance: Seeded): EntryOf<'count'> {
  const chamber = 'improved Neubauer, medium squares';
  const { squareAreaMm2 = 0.04, depthMm } = chamberRuling(chamber);
  const dilutionFactor = dilutions[lot.unit];
  const mlPerSquare = squareAreaMm2 * depthMm * 1e-3;
  const filling = (dilution: number) => {
    const error = Math.exp(chance.normal(0, 0.06));
    const mean = (lot.cellsPerGOrMl / dilutionFactor) * mlPerSquare * error;
    const squares = Array.from({ length: 5 }, () => chance.poisson(mean));
    return { squares, dilutionFactor, dilution };
  };
  return {
    kind: 'count',
    ...stamp(ms, people.lab),
    lotId: lot.id,
    basis: lot.unit === 'kg' ? 'g' : 'mL',
    chamber,
    squareAreaMm2,
    depthMm,
    pipettingSteps: 2,
    diluent: '0.5 % sulphuric acid',
    fillings: [filling(1), filling(2)],
  };
}

function stainOf(lot: Lot, ms: number, chance: Seeded): EntryOf<'stain'> & { stain: StainName } {
  const cells = Math.round(chance.between(410, 640));
  const live = chance.binomial(cells, viabilityAt(lot, ms));
  const stain = lot.unit === 'kg' ? 'methylene blue' : 'citrate methylene violet';
  return {
    kind: 'stain',
    ...stamp(ms, people.lab),
    lotId: lot.id,
    stain,
    live,
    dead: cells - live,
  };
}

export type Plate = { medium: string; looksFor: string; days: number };

export const plates = {
  bacteria: { medium: 'WLD', looksFor: 'bacteria', days: 5 },
  wild: { medium: 'LWYM', looksFor: 'wild yeast of the brewing kind', days: 4 },
  lysine: { medium: 'Lysine agar', looksFor: 'other wild yeast', days: 4 },
  pcr: { medium: 'PCR for STA1', looksFor: 'diastatic yeast', days: 1 },
} as const satisfies Record<string, Plate>;

/** Plates a sample and, when its day comes, reads it. */
export function plate(
  log: Log,
  lot: Lot,
  facts: {
    plate: Plate;
    ms: number;
    dueMs: number;
    onSuspicion?: boolean;
    result?: PlateResult | undefined;
  },
): void {
  const { medium, looksFor } = facts.plate;
  const checkId = log.write({
    kind: 'microCheck',
    ...stamp(facts.ms, people.lab),
    lotId: lot.id,
    medium,
    looksFor,
    cellsPlated: 3e6,
    dueAt: new Date(facts.dueMs).toISOString(),
    ...(facts.onSuspicion === true ? { purpose: 'suspicion' as const } : {}),
  });
  if (facts.result !== undefined)
    log.write({
      kind: 'microResult',
      ...stamp(facts.dueMs + 20 * minuteMs, people.lab),
      checkId,
      ...facts.result,
    });
}

type PlateResult = Pick<EntryOf<'microResult'>, 'outcome' | 'colonies' | 'note'>;
export const clear: PlateResult = { outcome: 'clear', colonies: 0 };
