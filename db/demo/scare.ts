import { countAndStain, plate, plates } from './bench.ts';
import { type Brewery, brew } from './brew.ts';
import { brewDay } from './brewDay.ts';
import { skim } from './cropping.ts';
import { familyBelow } from './family.ts';
import { lookDaily, runToCask } from './follow.ts';
import { beers, people } from './house.ts';
import { rounded, stamp } from './log.ts';
import {
  emptyHands,
  firstDayOf,
  fulmarBrew,
  fulmarInHand,
  type Hands,
  secondTernBrew,
  ternBrew,
  ternCrops,
} from './weeks.ts';

/** The week before something grows on a plate; the next one is the week of the scare. */
export const scareFrom = 51;

/**
 * Two weeks of Tern: a plate of a crop already pitched twice grows wild yeast. All that
 * comes from it goes on hold in one step; one crop is thrown away, the other is cleared and used.
 */
export function wildYeastScare(brewery: Brewery, hands: Hands): Hands {
  const { calendar, log, store } = brewery;
  const suspectWeek = scareFrom;
  const day = firstDayOf(suspectWeek + 1);
  const at = (later: number, hour: number) => calendar.at(day + later, hour);

  const first = ternBrew(brewery, hands.tern, suspectWeek);
  runToCask(brewery, first.ferment);
  const crops = ternCrops(brewery, first.ferment, false, suspectWeek);
  const [suspect] = crops;
  if (suspect === undefined) throw new Error('The suspect crop is missing.');
  const tern = { lots: crops, isTiring: false };
  const sister = secondTernBrew(brewery, tern, suspectWeek);
  const casks = runToCask(brewery, sister);
  const dark = fulmarBrew(brewery, fulmarInHand(brewery, hands, suspectWeek), suspectWeek);
  runToCask(brewery, dark);

  const reserve = skim(brewery, sister, {
    ...{ ms: at(0, 8.5), cut: 'later skim', ratio: 1.4, note: 'Reserve' },
  });
  const lost = brewDay(brewery, tern, {
    ...{ beer: beers.pale, vessels: ['FV3', 'FV4', 'FV2'], day, week: suspectWeek + 1 },
  });
  plate(log, suspect, {
    plate: plates.wild,
    ms: at(0, 14.2),
    dueMs: at(4, 8.3),
    result: { outcome: 'found', colonies: 46, note: 'Large pale colonies, not ours' },
  });
  store.temperatures(suspect, at(0, 14.6));
  store.discard(suspect, at(0, 14.6), 'Left over after pitching');
  const below = skim(brewery, lost, {
    ...{ ms: at(2, 10.4), cut: 'skim 2', ratio: 2.9 },
  });

  const family = familyBelow(log.entries(), suspect.id);
  const found = `LWYM of ${suspect.code}: 46 large pale colonies, wild yeast`;
  const kept = casks.length === 0 ? '' : `; casks ${casks.join(', ')} kept back`;
  const holdId = log.write({
    kind: 'familyHold',
    ...stamp(at(4, 9.2), people.head),
    lotId: suspect.id,
    why: `${found}${kept}`,
    lotIds: [below, reserve].filter(({ id }) => family.has(id)).map(({ id }) => id),
    fermentIds: [first.ferment, sister, dark, lost]
      .filter(({ id }) => family.has(id))
      .map(({ id }) => id),
  });
  const grown = { outcome: 'discard', colonies: 310, note: 'The same large colonies' } as const;
  plate(log, below, {
    plate: plates.wild,
    ms: at(4, 10),
    dueMs: at(8, 8.3),
    onSuspicion: true,
    result: grown,
  });
  const none = { outcome: 'clear', note: 'No STA1, two runs' } as const;
  plate(log, reserve, {
    plate: plates.pcr,
    ms: at(4, 10.2),
    dueMs: at(5, 8.1),
    onSuspicion: true,
    result: none,
  });
  store.temperatures(below, at(8, 9.4));
  store.discard(below, at(8, 9.4), 'Wild yeast, over the limit', people.head);

  lookDaily(brewery, lost, at(4, 18));
  log.write({
    kind: 'rack',
    ...stamp(at(5, 9.6), people.head),
    fermentId: lost.id,
    gravitySg: rounded(lost.curve.finalSg, 2000),
    batches: [],
    note: 'Sent to drain, no cask filled. Fermenter steamed twice.',
  });
  lost.vessel.freeFromMs = at(5, 14);
  log.write({
    kind: 'release',
    ...stamp(at(5, 8.8), people.head),
    lotId: reserve.id,
    why: 'PCR clear twice; one brew only, fresh culture is on its way',
  });

  const slurry = fulmarInHand(brewery, { ...hands, dark }, suspectWeek + 1);
  const nextDark = fulmarBrew(brewery, slurry, suspectWeek + 1);
  runToCask(brewery, nextDark);
  countAndStain(log, reserve, at(5, 9.1));
  const rescued = brew(brewery, {
    beer: beers.mild,
    lots: [reserve],
    vessels: ['FV2', 'FV1', 'FV5'],
    collectedMs: at(5, 14.3),
    note: 'A day late: waited for the PCR',
  });
  runToCask(brewery, rescued);
  store.temperatures(reserve, at(5, 15.6));
  store.discard(reserve, at(5, 15.6), 'Not kept: from the suspect line', people.head);
  log.write({
    kind: 'familyRelease',
    ...stamp(at(18, 9.3), people.head),
    holdId,
    why: 'Two weeks at 25 °C and the casks kept back are sound; the rest went to drain',
  });
  return { ...emptyHands, dark: nextDark };
}
