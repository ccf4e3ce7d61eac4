import type { Entry } from '#shared/entries/entry.ts';
import { aSmallStory, at, nextId } from '../support/brewery.ts';

/**
 * The small story of one site, then a second one: Weir, with FVs and a gyle 412 of its own, to which
 * half of the crop is sent.
 */
export async function twoSites() {
  const story = await aSmallStory();
  const by = 'Ines';
  const write = (entry: Entry) => story.write(entry, nextId());
  const home = await write({ kind: 'site', happenedAt: at(45), by, name: 'Quay', code: 'Q' });
  const weir = await write({ kind: 'site', happenedAt: at(45), by, name: 'Weir', code: 'W' });
  const there = { happenedAt: at(45), by, siteId: weir.id };
  const weirFv1 = await write({ kind: 'vessel', ...there, name: 'FV1' });
  const facts = { beer: 'Weir Pale', volumeL: 1000, originalGravitySg: 1.042 };
  const weirFerment = await write({
    ...{ kind: 'ferment', happenedAt: at(46), by, gyle: '412', ...facts },
    vesselId: weirFv1.id,
    strainId: story.strain.id,
  });
  const sent = await write({
    ...{ kind: 'transfer', happenedAt: at(47), by, amountKg: 5 },
    lotId: story.crop.id,
    toSiteId: weir.id,
  });
  return { ...story, home, weir, weirFv1, weirFerment, sent };
}
