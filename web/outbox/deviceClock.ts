import { signal } from '@preact/signals';
import { minuteMs } from '#shared/durations.ts';

/** How far this device's clock runs ahead of the server's [ms]; null until an answer told. */
export const clockFastMs = signal<number | null>(null);

const toleratedMs = 120_000;
const slowestAnswerMs = 10_000;

/** Compares the clocks by one answer: the server's whole second, against the middle of the wait. */
export function compareClocks(answeredAt: string | null, sentMs: number, receivedMs: number): void {
  const serverMs = Date.parse(answeredAt ?? '');
  if (Number.isNaN(serverMs) || receivedMs - sentMs > slowestAnswerMs) return;
  clockFastMs.value = (sentMs + receivedMs) / 2 - (serverMs + 500);
}

export const isClockOff = (fastMs: number | null): fastMs is number =>
  fastMs !== null && Math.abs(fastMs) > toleratedMs;

/** "3 h fast" or "5 min slow". */
export function clockError(fastMs: number): string {
  const minutes = Math.round(Math.abs(fastMs) / minuteMs);
  const size =
    minutes < 60
      ? `${minutes} min`
      : [
          `${Math.floor(minutes / 60)} h`,
          ...(minutes % 60 === 0 ? [] : [`${minutes % 60} min`]),
        ].join(' ');
  return `${size} ${fastMs > 0 ? 'fast' : 'slow'}`;
}
