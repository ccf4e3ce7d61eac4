import { possibleSg } from './gravity.ts';

/** A gravity read from a ferment. Hours are since the pitch. */
export type GravityReading = { hours: number; gravitySg: number };

type Indexed = GravityReading & { index: number };

export type ReadingNote = { index: number; message: string };

/** A rise up to this is the reading of a saccharometer, not the beer: common practice, no source. */
const RISE_WORTH_A_NOTE_SG = 0.0005;
/** Readings closer than this [h], a minute, are of one moment: no rate can be told between them. */
const SAME_TIME_HOURS = 1 / 60;

/**
 * Whether a gravity stands plainly above the one read before it.
 *
 * @param earlierSg  the gravity read before [SG]
 * @param laterSg  the gravity read after it [SG]
 * @returns true beyond half a degree; false where either is not a number
 *
 * Never throws. Source: none, own rule.
 */
export function isRise(earlierSg: number, laterSg: number): boolean {
  return laterSg - earlierSg > RISE_WORTH_A_NOTE_SG + 1e-9;
}

/**
 * Readings fit to draw a curve through, with a note on each one that was changed, refused or odd.
 *
 * @param readings  hours since the pitch [h] and gravity [SG] in any order
 * @returns readings by time, a minute apart at least, and notes; `index` is the place in the list given
 *
 * Refused: before the pitch, not a number, outside `possibleSg`. Readings within a minute are
 * averaged, at the time of the first. A rise of more than half a degree is kept and noted. Never throws. Source: none, own rules.
 */
export function orderedReadings(readings: readonly GravityReading[]): {
  readings: GravityReading[];
  notes: ReadingNote[];
} {
  const notes: ReadingNote[] = [];
  const sound = readings.flatMap((reading, index): Indexed[] => {
    const message = refusalOf(reading);
    if (message === undefined) return [{ ...reading, index }];
    notes.push({ index, message });
    return [];
  });
  let latest = -Infinity;
  for (const reading of sound) {
    if (reading.hours < latest)
      notes.push({ index: reading.index, message: 'out of order, sorted' });
    latest = Math.max(latest, reading.hours);
  }
  sound.sort((a, b) => a.hours - b.hours);
  const ordered = byMoment(sound).map(([first, ...again]) => {
    for (const { index } of again) notes.push({ index, message: 'same time as another, averaged' });
    const group = [first, ...again];
    const sum = group.reduce((total, { gravitySg }) => total + gravitySg, 0);
    const index = Math.max(...group.map((reading) => reading.index));
    return { hours: first.hours, gravitySg: sum / group.length, index };
  });
  for (const [place, reading] of ordered.entries()) {
    const before = ordered[place - 1];
    if (before && isRise(before.gravitySg, reading.gravitySg)) {
      notes.push({ index: reading.index, message: 'higher than the reading before it, kept' });
    }
  }
  notes.sort((a, b) => a.index - b.index);
  return { readings: ordered.map(({ hours, gravitySg }) => ({ hours, gravitySg })), notes };
}

/** Readings by time, those of one moment together. */
function byMoment(readings: readonly Indexed[]): [Indexed, ...Indexed[]][] {
  const groups: [Indexed, ...Indexed[]][] = [];
  for (const reading of readings) {
    const group = groups.at(-1);
    if (group !== undefined && reading.hours - group[0].hours < SAME_TIME_HOURS)
      group.push(reading);
    else groups.push([reading]);
  }
  return groups;
}

function refusalOf({ hours, gravitySg }: GravityReading): string | undefined {
  if (!Number.isFinite(hours)) return 'no time, left out';
  if (hours < 0) return 'taken before the pitch, left out';
  const { low, high } = possibleSg;
  if (!(gravitySg >= low && gravitySg <= high)) {
    return `gravity is not between ${low.toFixed(3)} and ${high.toFixed(3)}, left out`;
  }
  return undefined;
}
