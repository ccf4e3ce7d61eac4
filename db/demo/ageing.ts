import { hourMs } from '#shared/durations.ts';
import { type Brewery, wearinessAt } from './brew.ts';
import type { Ferment } from './ferment.ts';
import { people } from './house.ts';
import type { InHand } from './lineStarts.ts';
import { stamp } from './log.ts';
import { seeded } from './seeded.ts';

/** The lab has the medium from this week on, and looks at Tern every week. */
const isWatched = (week: number) => week >= 27;

const coloniesLookedAt = 200;
/** A sound line has few petites; each generation of weariness adds to them [-]. */
const petiteShare = { sound: 0.014, perWeariness: 0.014 } as const;
/** Cells in suspension at their most, for each one pitched [-]. */
const growth = 5.2;
const peakHours = 26;

/** Plates the first lot pitched for petites, and counts the beer at its busiest. */
export function watchAgeing(
  { calendar, log }: Brewery,
  { lots, isTiring }: InHand,
  ferment: Ferment,
  { day, week }: { day: number; week: number },
): void {
  const [lot] = lots;
  if (!isWatched(week) || lot === undefined) return;
  const chance = seeded(`ageing ${ferment.gyle}`);
  const weariness = wearinessAt(lot.generation, isTiring);
  const checkId = log.write({
    kind: 'microCheck',
    ...stamp(calendar.at(day, 14.3), people.lab),
    lotId: lot.id,
    medium: 'TTC overlay',
    looksFor: 'petites',
    dueAt: new Date(calendar.at(day + 4, 9.1)).toISOString(),
  });
  const share = petiteShare.sound + petiteShare.perWeariness * weariness;
  log.write({
    kind: 'microResult',
    ...stamp(calendar.at(day + 4, 9.4), people.lab),
    checkId,
    outcome: 'clear',
    colonies: chance.binomial(coloniesLookedAt, share),
    ofColonies: coloniesLookedAt,
  });
  const pitchedPerMl = ferment.livingCells / (ferment.volumeL * 1000);
  const peak = pitchedPerMl * growth * (1 - 0.05 * weariness) * Math.exp(chance.normal(0, 0.06));
  log.write({
    kind: 'reading',
    ...stamp(ferment.pitchedMs + peakHours * hourMs, people.lab),
    fermentId: ferment.id,
    cellsPerMl: Number(peak.toPrecision(3)),
  });
}
