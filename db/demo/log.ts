import type { BulkEntry } from '#db/journal/bulk.ts';
import type { Entry } from '#shared/entries/entry.ts';
import { uuidV7 } from '#shared/uuid.ts';
import { seeded } from './seeded.ts';

/** Between doing a thing and writing it down. */
const usualDelayMs = 45_000;

/** How long after it happened it was written down, and by how much the phone was ahead then. */
type Writing = { delayMs?: number | undefined; clockFastMs?: number };

export type Log = {
  /** Writes an entry down and gives its id; what lies beyond the present is left out. */
  write: (entry: Entry, how?: Writing) => string;
  /** All that was written, in the order it was received. */
  entries: () => BulkEntry[];
};

/** A log that ends at a moment. */
export function openLog(nowMs: number): Log {
  const written: BulkEntry[] = [];
  const chance = seeded('ids');

  function write(entry: Entry, { delayMs = usualDelayMs, clockFastMs }: Writing = {}): string {
    const happenedMs = Date.parse(entry.happenedAt);
    const lateMs = happenedMs + delayMs;
    const receivedMs = lateMs > nowMs ? happenedMs + usualDelayMs : lateMs;
    const id = uuidV7(receivedMs, Uint8Array.from({ length: 10 }, chance.byte));
    if (receivedMs <= nowMs) written.push({ id, entry, receivedMs, clockFastMs });
    return id;
  }

  return { write, entries: () => written.toSorted((a, b) => a.receivedMs - b.receivedMs) };
}

/** Who did it and when, as every entry says it. */
export const stamp = (ms: number, by: string) => ({
  happenedAt: new Date(ms).toISOString(),
  by,
});

/** A figure as people write it down, to the nearest step. */
export const rounded = (value: number, stepsPerUnit: number) =>
  Math.round(value * stepsPerUnit) / stepsPerUnit;
