import { dayMs } from '#shared/durations.ts';
import { type Medium, mediumNamed } from '#shared/micro/media.ts';
import type { PlateStanding } from '#shared/views/lots.ts';
import { localDay } from '../../format.ts';
import { choice, day, decimal, note, select, text } from '../form/fields.ts';

/** Chosen for a medium that is not in the list. */
export const otherMedium = 'other';

export const purposes = [
  {
    value: 'routine',
    label: 'As a matter of course',
    hint: 'What it does until it is read is the strain’s policy, in Setup.',
  },
  {
    value: 'suspicion',
    label: 'On suspicion',
    hint: 'The lot is on hold until it is read.',
  },
] as const;

export const plateFields = (media: readonly Medium[]) => ({
  medium: select({
    label: 'Medium',
    options: [
      ...media
        .filter(({ retired }) => retired !== true)
        .map(({ name, looksFor }) => ({ value: name, label: `${name}: ${looksFor}` })),
      { value: otherMedium, label: 'Another' },
    ],
  }),
  otherName: text({ label: 'Name of the medium', optional: true }),
  looksFor: text({ label: 'What it looks for', optional: true }),
  purpose: choice({ label: 'Why is it plated?', options: purposes }),
  cellsPlated: decimal({
    label: 'Cells plated',
    unit: 'million',
    unitWords: 'millions',
    optional: true,
    hint: 'An empty plate shows less than 3 in the cells plated: 1 million cannot show less than 3 per million.',
  }),
  dueDay: day({
    label: 'To be read on',
    optional: true,
    hint: 'Left blank: so many days after today as the medium says.',
  }),
  note: note(),
});

/** The day a plate of a medium is read, as a day field holds it. */
const dueDayOf = (medium: Medium | undefined, from: Date) =>
  localDay(new Date(from.getTime() + (medium?.readAfterDays ?? 4) * dayMs));

type PlateTyped = {
  medium: string | undefined;
  otherName: string | undefined;
  looksFor: string | undefined;
  dueDay: string | undefined;
};

/** What the choices come to: the medium by name, what it looks for, and when it is read. */
export function plateChosen(media: readonly Medium[], typed: PlateTyped, now: Date) {
  const known = mediumNamed(media, typed.medium ?? '');
  const isOther = typed.medium === otherMedium;
  const dueDay = typed.dueDay ?? (typed.medium === undefined ? undefined : dueDayOf(known, now));
  return {
    medium: isOther ? typed.otherName : typed.medium,
    looksFor: isOther ? typed.looksFor : (known?.looksFor ?? typed.looksFor),
    dueDay,
    known,
  };
}

/** Plates of a lot that are to be read. */
export const unread = (plates: readonly PlateStanding[]) =>
  plates.filter(({ result }) => result === null);
