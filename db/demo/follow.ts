import { hourMs, minuteMs } from '#shared/durations.ts';
import { fallAt, gravityAt, hoursToEnd } from './curve.ts';
import type { Brewhouse, Ferment } from './ferment.ts';
import { people } from './house.ts';
import { rounded, stamp } from './log.ts';
import { seeded } from './seeded.ts';

/** What is counted in the FV against what the bench promised: the slurry figures run a little high. */
const foundShare = 0.9;

/** Looks into a fermenter at a moment: gravity and temperature. Gives the entry and the gravity. */
export function look(
  { log }: Pick<Brewhouse, 'log'>,
  ferment: Ferment,
  ms: number,
  delayMs?: number,
): { id: string; gravitySg: number; tempC: number } {
  const chance = seeded(`look ${ferment.gyle} ${Math.round((ms - ferment.pitchedMs) / hourMs)}`);
  const hours = (ms - ferment.pitchedMs) / hourMs;
  const read = rounded(gravityAt(ferment.curve, hours) + chance.normal(0, 0.00025), 2000);
  const gravitySg = Math.min(ferment.originalGravitySg, read);
  const tempC = rounded(tempAt(ferment, hours) + chance.normal(0, 0.12), 10);
  const entry = { kind: 'reading' as const, fermentId: ferment.id, gravitySg, tempC };
  const id = log.write({ ...entry, ...stamp(ms, people.cellar) }, { delayMs });
  return { id, gravitySg, tempC };
}

/** Counts the cells in the wort soon after pitching. */
export function countInVessel({ log }: Brewhouse, ferment: Ferment, ms: number): void {
  const chance = seeded(`suspended ${ferment.gyle}`);
  const cellsPerMl = ferment.livingCells / (ferment.volumeL * 1000);
  const found = cellsPerMl * foundShare * Math.exp(chance.normal(0, 0.07));
  log.write({
    kind: 'reading',
    ...stamp(ms, people.lab),
    fermentId: ferment.id,
    cellsPerMl: Number(found.toPrecision(3)),
  });
}

// Let rise with the fall, held back by attemperation, a degree down once most of it is done.
function tempAt({ beer, curve }: Ferment, hours: number): number {
  const fall = fallAt(curve, hours);
  return beer.setTempC + 4.2 * fall ** 0.8 - (fall > 0.93 ? 0.9 : 0);
}

/** Readings by the clock, two or three a day, from pitching to a moment. */
export function lookDaily(brewhouse: Brewhouse, ferment: Ferment, untilMs: number): void {
  const { calendar } = brewhouse;
  const chance = seeded(`round ${ferment.gyle}`);
  const first = calendar.dayOf(ferment.pitchedMs);
  const last = calendar.dayOf(Math.min(untilMs, calendar.nowMs));
  for (let day = first; day <= last; day += 1)
    for (const hour of [7.6, 12.4, 17.4]) {
      const ms = calendar.at(day, hour + chance.between(0, 0.3));
      const isSkipped = hour === 12.4 && (day > first + 1 || chance.uniform() < 0.4);
      const isLate = chance.uniform() < 0.04;
      const delayMs = isLate ? Math.round(chance.between(1, 5) * hourMs) : undefined;
      if (ms > ferment.pitchedMs + hourMs && ms < untilMs && !isSkipped)
        look(brewhouse, ferment, ms, delayMs);
    }
}

/** The morning on which a ferment is done and cooled. */
function chillMs({ calendar }: Brewhouse, ferment: Ferment): number {
  const readyMs = ferment.pitchedMs + (hoursToEnd(ferment.curve) + 6) * hourMs;
  const day = calendar.dayOf(readyMs);
  const thatDay = calendar.at(day, 9.2);
  return thatDay >= readyMs ? thatDay : calendar.at(day + 1, 9.2);
}

export function chill({ log }: Brewhouse, ferment: Ferment, ms: number): void {
  log.write({ kind: 'chill', ...stamp(ms, people.cellar), fermentId: ferment.id, toTempC: 10 });
}

/** A batch for every fifteen hectolitres or part of them. */
export function rack({ log }: Brewhouse, ferment: Ferment, ms: number): string[] {
  const batches = Array.from(
    { length: Math.ceil(ferment.volumeL / 1500) },
    (_, index) => `${ferment.gyle}/${index + 1}`,
  );
  const gravitySg = rounded(ferment.curve.finalSg - 0.0003, 2000);
  log.write({
    kind: 'rack',
    ...stamp(ms, people.cellar),
    fermentId: ferment.id,
    gravitySg,
    batches,
  });
  ferment.vessel.freeFromMs = ms;
  return batches;
}

/** The usual course of a ferment: looked at, cooled, racked a day or two later. */
export function runToCask(brewhouse: Brewhouse, ferment: Ferment): string[] {
  const { calendar } = brewhouse;
  const cooledMs = chillMs(brewhouse, ferment);
  const days = seeded(`rack ${ferment.gyle}`).pick(1, 1, 2);
  lookDaily(brewhouse, ferment, cooledMs);
  chill(brewhouse, ferment, cooledMs);
  return rack(brewhouse, ferment, calendar.at(calendar.dayOf(cooledMs) + days, 8.7));
}

/** A phone that nobody had set right for long. */
const slowPhoneMs = -9 * minuteMs;

/** A gravity with two figures changed over, put right within the half hour; by a slow phone too. */
export function mistype({ log }: Brewhouse, ferment: Ferment, ms: number): void {
  const hours = (ms - ferment.pitchedMs) / hourMs;
  const gravitySg = rounded(gravityAt(ferment.curve, hours), 1000);
  const tempC = rounded(tempAt(ferment, hours), 10);
  const [tens = '', units = ''] = gravitySg.toFixed(3).slice(3);
  const typedSg = Number(`1.0${units}${tens === units ? 9 : tens}`);
  const reading = { kind: 'reading' as const, ...stamp(ms, people.cellar), fermentId: ferment.id };
  const phone = { clockFastMs: slowPhoneMs };
  const supersedes = log.write({ ...reading, gravitySg: typedSg, tempC }, phone);
  const reason = `Read ${gravitySg.toFixed(3)}, typed ${typedSg.toFixed(3)}`;
  const correction = { ...reading, gravitySg, tempC, supersedes, reason };
  log.write(correction, { delayMs: 25 * minuteMs, ...phone });
}
