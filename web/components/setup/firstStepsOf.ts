import type { FermentStanding } from '#shared/views/ferments.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { Setup } from '#shared/views/setup.ts';
import { sites } from '../../sites.ts';

export type Known = {
  setup: Setup;
  lots: readonly LotStanding[];
  ferments: readonly FermentStanding[];
};

export type Step = { title: string; detail: string; href: string; verb: string; done: boolean };

export const isBeginning = (known: Known) => stepsOf(known).some(({ done }) => !done);

/** What it takes until the first pitch, in order, and what of it is done. */
export function stepsOf({ setup, lots, ferments }: Known): Step[] {
  const isPitched = ferments.some(({ pitches }) => pitches.length > 0);
  const hasCropped = lots.some(({ kind }) => kind !== 'freshCulture');
  const isUnderWay = isPitched || hasCropped || lots.some(({ timesPitched }) => timesPitched > 0);
  const wort = ferments.find(({ state }) => state === 'collected');
  return [
    {
      title: 'Name the brewery',
      detail: 'Its name, its units, and how it counts cells and generations.',
      href: '/setup#brewery',
      verb: 'Name it',
      done: setup.brewery !== null,
    },
    {
      title: 'Add a strain',
      detail: 'Its pitching rate and its limits; usual values are filled in.',
      href: '/setup#strains',
      verb: 'Add a strain',
      done: setup.strains.length > 0,
    },
    {
      title: 'Add the FVs',
      detail: 'Each fermenter by the name painted on it.',
      href: '/setup#vessels',
      verb: 'Add an FV',
      done: setup.vessels.length > 0,
    },
    {
      title: 'Enter the yeast you have',
      detail:
        sites.value.length > 0
          ? 'A fresh culture, or yeast in use; or send a lot here from the page of that lot.'
          : 'A fresh culture, or the yeast in use, with its amount. Count it if you can.',
      href: '/yeast/new',
      verb: 'Enter it',
      done: isUnderWay || lots.length > 0,
    },
    {
      title: 'Collect a gyle',
      detail: 'Volume, gravity and FV of the wort.',
      href: '/ferments/new',
      verb: 'Collect',
      done: isUnderWay || ferments.length > 0,
    },
    {
      title: 'Pitch it',
      detail: 'The book works out how much, and says how sure that is.',
      href: wort === undefined ? '/pitch' : `/pitch?ferment=${wort.id}`,
      verb: 'Pitch',
      done: isUnderWay,
    },
  ];
}
