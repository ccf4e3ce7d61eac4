import { daysBetween } from '#shared/localDay.ts';
import { isOf } from '#shared/plan/demand.ts';
import { keyOfNamed } from '#shared/sites/site.ts';
import type { Recorded } from '#shared/views/recorded.ts';
import type { Setup } from '#shared/views/setup.ts';
import { day, localDay, volume } from '../../format.ts';
import { atItsSite, siteOfBrew } from '../../sites.ts';
import { type Spec, select } from '../form/fields.ts';

type Brew = Recorded<'plannedBrew'>;

/** What is chosen for a gyle that nobody planned. */
export const notPlanned = 'none';

export const plannedWords = ({ onDay, beer, volumeL }: Pick<Brew, 'onDay' | 'beer' | 'volumeL'>) =>
  `${day(onDay)}: ${beer}, ${volume(volumeL)}`;

const siteOf = (brew: Brew, setup: Setup) => keyOfNamed(siteOfBrew(brew, setup), setup.homeId);

/** Which planned brew a gyle carries out; null for none. */
export function plannedField(brews: readonly Brew[], setup: Setup): Spec<string | null> {
  const options = [
    ...brews.map((brew) => ({
      value: brew.id,
      label: atItsSite(plannedWords(brew), siteOf(brew, setup)),
    })),
    { value: notPlanned, label: 'Not a planned brew' },
  ];
  const { parse, ...spec } = select({ label: 'Planned brew', options });
  return {
    ...spec,
    parse: (typed, all) => (typed === notPlanned ? { value: null } : parse(typed, all)),
    show: (value) => value ?? notPlanned,
  };
}

type Wort = { beer?: string; strainId?: string; vesselId?: string };

/** The planned brew of a wort's beer, strain and site whose day is nearest; undefined if none is of it. */
export function brewMeant(
  brews: readonly Brew[],
  { beer = '', strainId = '', vesselId }: Wort,
  setup: Setup,
): Brew | undefined {
  const today = localDay(new Date());
  const daysOff = ({ onDay }: Brew) => Math.abs(daysBetween(today, onDay));
  const vessel = setup.vessels.find(({ id }) => id === vesselId);
  const isThere = (brew: Brew) =>
    vessel === undefined || siteOf(brew, setup) === keyOfNamed(vessel.siteId, setup.homeId);
  return brews
    .filter((brew) => isOf({ beer, strainId }, brew) && isThere(brew))
    .toSorted((a, b) => daysOff(a) - daysOff(b))[0];
}
