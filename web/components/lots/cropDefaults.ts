import type { EntryOf } from '#shared/entries/entry.ts';
import { cropWindow } from '#shared/ferments/cropWindow.ts';
import type { FermentStanding } from '#shared/views/ferments.ts';
import type { Recorded } from '#shared/views/recorded.ts';

type Cut = EntryOf<'crop'>['cut'];

/** The cut this ferment is most likely at, by how it is cropped, its gravity and earlier crops. */
export function likelyCut(ferment: FermentStanding): Cut {
  if (ferment.strain.crops === 'bottom') return 'cone';
  const taken = ferment.crops.map(({ cut }) => cut);
  if (taken.includes('skim 2') || taken.includes('later skim')) return 'later skim';
  const fallen = ferment.apparentAttenuationPercent ?? 0;
  return taken.includes('skim 1') || fallen >= cropWindow.fromAttenuationPercent
    ? 'skim 2'
    : 'skim 1';
}

/** How the last crop was measured and how much it was, to start the next from. */
export function measureOf(last: Recorded<'crop'> | undefined) {
  if (last === undefined) return { unit: 'L', amount: undefined, place: undefined } as const;
  return last.amountKg === undefined
    ? ({ unit: 'L', amount: last.amountL, place: last.place } as const)
    : ({ unit: 'kg', amount: last.amountKg, place: last.place } as const);
}
