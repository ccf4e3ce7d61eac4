import type { Brewhouse } from './ferment.ts';
import { type Beer, beers, type House, people } from './house.ts';
import { stamp } from './log.ts';

type Planned = {
  inDays: number;
  beer: Beer;
  volumeL: number;
  vessel?: keyof House['vessels'];
  note?: string;
};

/**
 * Two weeks, and in them a brew for the festival on a day when all Fulmar is on hold; fresh Fulmar is
 * ordered for the brews after it.
 */
const brews: readonly Planned[] = [
  { inDays: 1, beer: beers.mild, volumeL: 1620, vessel: 'FV1' },
  {
    inDays: 2,
    beer: beers.stout,
    volumeL: 3950,
    vessel: 'FV6',
    note: 'For the harbour festival, on top of the usual three',
  },
  { inDays: 5, beer: beers.gold, volumeL: 2430 },
  { inDays: 8, beer: beers.bitter, volumeL: 3240 },
  { inDays: 12, beer: beers.pale, volumeL: 2430, note: 'The last of this line' },
  { inDays: 11, beer: beers.strong, volumeL: 800, vessel: 'FV5' },
  { inDays: 14, beer: beers.porter, volumeL: 1620 },
];

export function planAhead(brewhouse: Brewhouse, house: House): void {
  const { log, calendar } = brewhouse;
  const { strains, vessels } = house;
  freshCulturePolicies(brewhouse, house);
  brews.forEach(({ inDays, beer, volumeL, vessel, note }, index) => {
    log.write({
      kind: 'plannedBrew',
      ...stamp(calendar.at(-1, 15 + 0.05 * index), people.head),
      onDay: calendar.date(inDays),
      beer: beer.name,
      volumeL,
      originalGravitySg: beer.originalGravitySg,
      strainId: strains[beer.strain].id,
      ...(vessel === undefined ? {} : { vesselId: vessels[vessel].id }),
      ...(note === undefined ? {} : { note }),
    });
  });
  const cancelled = log.write({
    kind: 'plannedBrew',
    ...stamp(calendar.at(-1, 15.5), people.head),
    onDay: calendar.date(9),
    beer: beers.mild.name,
    volumeL: 1620,
    originalGravitySg: beers.mild.originalGravitySg,
    strainId: strains.Tern.id,
  });
  log.write({
    kind: 'void',
    ...stamp(calendar.at(-1, 16.4), people.head),
    supersedes: cancelled,
    reason: 'Malt comes a week later',
  });
}

/** Tern is woken from a slope when it is wanted, Fulmar bought; money in pounds. */
function freshCulturePolicies({ log, calendar }: Brewhouse, { strains }: House): void {
  log.write({
    kind: 'freshCulturePolicy',
    ...stamp(calendar.at(-200, 16), people.head),
    strainId: strains.Tern.id,
    comesFrom: 'slope',
    daysPerStep: 2,
    freshCultureCost: 180,
    handlingCostPerBrew: 25,
    extraCostPerGeneration: 3.6,
    lostBrewCost: 1900,
  });
  log.write({
    kind: 'freshCulturePolicy',
    ...stamp(calendar.at(-5, 16), people.head),
    strainId: strains.Fulmar.id,
    comesFrom: 'bought',
    expectedOn: calendar.date(10),
    freshCultureCost: 240,
    handlingCostPerBrew: 25,
    extraCostPerGeneration: 3,
    lostBrewCost: 2400,
    note: 'Ordered after the last plate',
  });
}
