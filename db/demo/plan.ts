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

/** Two weeks, and in them a brew for the festival that asks for more Fulmar than there will be. */
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
  { inDays: 6, beer: beers.strong, volumeL: 800, vessel: 'FV5' },
  { inDays: 8, beer: beers.bitter, volumeL: 3240 },
  { inDays: 12, beer: beers.pale, volumeL: 2430 },
  { inDays: 13, beer: beers.porter, volumeL: 1620 },
];

export function planAhead({ log, calendar }: Brewhouse, { strains, vessels }: House): void {
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
