import { signal } from '@preact/signals';

/** How far this device's clock runs ahead of the server's [ms]; null until an answer told. */
export const clockFastMs = signal<number | null>(null);

const slowestAnswerMs = 10_000;

/** Compares the clocks by one answer: the server's whole second, against the middle of the wait. */
export function compareClocks(answeredAt: string | null, sentMs: number, receivedMs: number): void {
  const serverMs = Date.parse(answeredAt ?? '');
  if (Number.isNaN(serverMs) || receivedMs - sentMs > slowestAnswerMs) return;
  clockFastMs.value = (sentMs + receivedMs) / 2 - (serverMs + 500);
}
