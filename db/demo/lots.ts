import { dayMs, hourMs } from '#shared/durations.ts';
import { lotCode } from '#shared/lotCode.ts';
import type { Calendar } from './calendar.ts';
import { people, type Strain } from './house.ts';
import { type Log, rounded, stamp } from './log.ts';
import { seeded } from './seeded.ts';

/** What the bench found of a lot; the true figures are the lot's own. */
export type Known = {
  cellsPerGOrMl: number;
  concentrationLogSd: number;
  viability: number;
  viabilityLogSd: number;
};

export type Lot = {
  id: string;
  code: string;
  strain: Strain;
  unit: 'kg' | 'L';
  takenMs: number;
  generation: number;
  left: number;
  cellsPerGOrMl: number;
  /** Share alive when it was taken [-]. */
  viability: number;
  known: Known | undefined;
};

export type Store = ReturnType<typeof openStore>;

/** The cold store: every lot keeps its code, its temperatures and what is left of it. */
export function openStore(log: Log, calendar: Calendar) {
  const codes = new Set<string>();

  const freeCode = (origin: Parameters<typeof lotCode>[0]): string => {
    const code = lotCode(origin, (taken) => codes.has(taken));
    codes.add(code);
    return code;
  };

  /** The yeast's own temperature, morning and evening, for as long as there is some. */
  function temperatures(lot: Lot, untilMs: number, warm: Warmth = {}): void {
    const chance = seeded(`store ${lot.code}`);
    const usualC = chance.between(2.1, 3.3);
    const first = calendar.dayOf(lot.takenMs);
    const last = calendar.dayOf(Math.min(untilMs, calendar.nowMs));
    for (let day = first; day <= last; day += 1)
      for (const hour of [7.1, 17.1]) {
        const ms = calendar.at(day, hour + chance.between(0, 0.35));
        const tempC =
          warm[`${day} ${hour > 12 ? 'evening' : 'morning'}`] ?? chance.normal(usualC, 0.3);
        if (ms > lot.takenMs + hourMs && ms < untilMs)
          log.write({
            kind: 'storeReading',
            ...stamp(ms, people.cellar),
            lotId: lot.id,
            tempC: rounded(Math.max(1.2, tempC), 10),
          });
      }
  }

  /** Takes an amount from a lot, never more than there is. */
  function draw(lot: Lot, amount: number) {
    const taken = Math.min(lot.left, amount);
    lot.left = rounded(lot.left - taken, 10);
    return lot.unit === 'kg' ? { amountKg: taken } : { amountL: taken };
  }

  /** Throws away what is left; nothing happens when nothing is. */
  function discard(lot: Lot, ms: number, why: string, by: string = people.cellar): void {
    if (lot.left > 0)
      log.write({ kind: 'discard', ...stamp(ms, by), lotId: lot.id, ...draw(lot, lot.left), why });
  }

  return { freeCode, temperatures, draw, discard };
}

type Warmth = Readonly<Record<string, number>>;

/** An amount as an entry says it. */
export const amountIn = (unit: 'kg' | 'L', amount: number) =>
  unit === 'kg' ? { amountKg: amount } : { amountL: amount };

/** The true share alive of a lot at a moment [-]. */
export const viabilityAt = (lot: Lot, ms: number) =>
  lot.viability * Math.exp((-lot.strain.lossPerDay * (ms - lot.takenMs)) / dayMs);

/** Living cells in a kilogram or litre by what the bench found, or by the usual figure. */
export function livingCellsPerUnit(lot: Lot): number {
  const { cellsPerGOrMl, viability } = lot.known ?? {
    cellsPerGOrMl: lot.strain.cellsPerGOrMl,
    viability: lot.viability,
  };
  return 1000 * cellsPerGOrMl * viability;
}
