import { dayWords } from '#shared/dayWords.ts';
import type { TodayAction } from '#shared/views/today.ts';

/** A plate not yet read, whether or not anything is left of its lot. */
export type UnreadPlate = {
  id: string;
  lotId: string;
  lotCode: string;
  medium: string;
  looksFor: string;
  purpose: 'routine' | 'suspicion';
  isLotLeft: boolean;
  /** The brewery's own date [YYYY-MM-DD] on which it is to be read. */
  dueDay: string;
};

/** Plates whose reading day has come, and those of tomorrow. */
export function plateActions(
  plates: readonly UnreadPlate[],
  { today, tomorrow }: { today: string; tomorrow: string },
): TodayAction[] {
  return plates
    .filter(({ dueDay }) => dueDay <= tomorrow)
    .map((plate) => ({
      id: `plate-${plate.id}`,
      urgency: plate.dueDay <= today ? 'today' : 'soon',
      title: `Read the ${plate.medium} plate of ${plate.lotCode}`,
      detail: [whenDue(plate.dueDay, today), whatWaits(plate)].join(' '),
      href: `/yeast/${plate.lotId}?read=${plate.id}`,
      verb: 'Plate',
    }));
}

function whenDue(dueDay: string, today: string): string {
  if (dueDay > today) return 'To be read tomorrow.';
  return dueDay === today ? 'To be read today.' : `It was to be read ${dayWords(dueDay, today)}.`;
}

function whatWaits({ isLotLeft, purpose, looksFor }: UnreadPlate): string {
  if (!isLotLeft) return `The lot is used up: its ferments and casks wait to hear of ${looksFor}.`;
  return purpose === 'suspicion' ? 'Until then the lot is on hold.' : `It looks for ${looksFor}.`;
}
