import { hourMs, minuteMs } from './durations.ts';

/**
 * When an entry was made, told by three clocks: what the person claims, by the clock of the device,
 * and when the log received it. The claim is never rewritten; what does not fit is said beside it.
 */

/** The header in which a device says what its clock shows as it sends an entry, ISO with offset. */
export const sentAtHeader = 'barmbook-sent-at';

/** Beyond this a device's clock counts as off [ms]. Common practice, no source. */
export const clockLimitMs = 2 * minuteMs;

/** Written down longer than this after it happened, an entry counts as late [ms]. Likewise. */
const lateAfterMs = hourMs;

export const isClockOff = (fastMs: number | null | undefined): fastMs is number =>
  fastMs !== null && fastMs !== undefined && Math.abs(fastMs) > clockLimitMs;

/** "3 h ahead" or "5 min behind". */
export const clockError = (fastMs: number): string =>
  `${timeSpan(Math.abs(fastMs))} ${fastMs > 0 ? 'ahead' : 'behind'}`;

/** "40 min", "3 h", "2 h 30 min", "4 days". */
export function timeSpan(ms: number): string {
  const minutes = Math.round(ms / minuteMs);
  if (minutes < 60) return `${minutes} min`;
  const hours = Math.floor(minutes / 60);
  if (hours >= 48) return `${Math.round(hours / 24)} days`;
  return minutes % 60 === 0 ? `${hours} h` : `${hours} h ${minutes % 60} min`;
}

type EntryTimes = {
  happenedMs: number;
  receivedMs: number;
  /** By how much the device's clock ran ahead of the log's as it sent [ms]; null: not told. */
  clockFastMs: number | null;
  /** A correction speaks of a time past, and old records brought in do so too. */
  isFirstHand: boolean;
};

/**
 * What an entry's times leave to be said: "device clock was 3 h behind", "entered 5 h after it
 * happened". A clock that was off made the claim, so lateness is measured with its error taken off.
 */
export function timeRemarks({
  happenedMs,
  receivedMs,
  clockFastMs,
  isFirstHand,
}: EntryTimes): string[] {
  const offMs = isClockOff(clockFastMs) ? clockFastMs : 0;
  const lateMs = receivedMs - (happenedMs - offMs);
  return [
    ...(offMs === 0 ? [] : [`device clock was ${clockError(offMs)}`]),
    ...(isFirstHand && lateMs > lateAfterMs
      ? [`entered ${timeSpan(lateMs)} after it happened`]
      : []),
  ];
}
