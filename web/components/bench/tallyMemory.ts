import { signal } from '@preact/signals';
import { isTallySequence, type TallyKeys, tallyActs, usualTallyKeys } from '#shared/tally.ts';
import { keep, kept } from '../../deviceMemory.ts';
import { holder } from '../../outbox/author.ts';

/** What this device remembers of tallying: keys, sound, target, and counts left unfinished. */
const names = {
  keys: 'barmbook.tally.keys',
  muted: 'barmbook.tally.muted',
  target: 'barmbook.tally.target',
};

const usualTarget = 400;

export const tallyKeys = signal<TallyKeys>(readKeys());
export const tallyMuted = signal(kept(names.muted) === 'yes');
export const tallyTarget = signal(Number(kept(names.target)) || usualTarget);

export function keepTallyKeys(keys: TallyKeys) {
  tallyKeys.value = keys;
  keep(names.keys, JSON.stringify(keys));
}

export function keepTallyMuted(muted: boolean) {
  tallyMuted.value = muted;
  keep(names.muted, muted ? 'yes' : null);
}

export function keepTallyTarget(target: number) {
  tallyTarget.value = target;
  keep(names.target, String(target));
}

// Of the person at the device, as what is typed into a form.
const sequenceName = (count: string) => `barmbook.tally.count.${holder.value?.id ?? ''}.${count}`;

export function keepSequence(count: string, sequence: string) {
  keep(sequenceName(count), sequence === '' ? null : sequence);
}

export function keptSequence(count: string): string {
  const sequence = kept(sequenceName(count)) ?? '';
  return isTallySequence(sequence) ? sequence : '';
}

function readKeys(): TallyKeys {
  try {
    const stored: unknown = JSON.parse(kept(names.keys) ?? 'null');
    return isTallyKeys(stored) ? stored : usualTallyKeys;
  } catch {
    return usualTallyKeys;
  }
}

function isTallyKeys(stored: unknown): stored is TallyKeys {
  if (typeof stored !== 'object' || stored === null) return false;
  const keys = new Map<string, unknown>(Object.entries(stored));
  return tallyActs.every((act) => {
    const codes = keys.get(act);
    return Array.isArray(codes) && codes.every((code) => typeof code === 'string');
  });
}

const openName = () => `barmbook.tally.open.${holder.value?.id ?? ''}`;

/** The tally that was on the screen, to open it again after a reload. */
export const openTally = () => kept(openName());
export const keepOpenTally = (count: string | null) => keep(openName(), count);
