import { signal } from '@preact/signals';
import { keep, kept } from '../deviceMemory.ts';

const name = 'barmbook.lastSentMs';

/** When the log last took an entry from this device, by this device's clock; null for never. */
export const lastSentMs = signal<number | null>(Number(kept(name)) || null);

export function noteSent(nowMs: number): void {
  lastSentMs.value = nowMs;
  keep(name, String(nowMs));
}
