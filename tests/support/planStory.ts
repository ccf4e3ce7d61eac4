import { aBrewery, aFerment, aLog, aStrain, at, freshDatabase } from './brewery.ts';

const by = 'Ines';

/** A small brewery in London with Tern: a counted and stained crop in store, and brews planned. */
export async function aPlanStory({ minViabilityPercent = 85 } = {}) {
  const log = aLog(await freshDatabase());
  await log.write(aBrewery({ name: 'Wrackstone' }));
  const strain = await log.write(aStrain({ maxGenerations: 3, minViabilityPercent }));
  const vessel = await log.write({ kind: 'vessel', happenedAt: at(0), by, name: 'FV1' });
  const fresh = await log.write({
    ...{ kind: 'freshCulture', happenedAt: at(0), by, strainId: strain.id },
    ...{ origin: 'bought', generation: 0, amountL: 20 },
  });
  const ferment = await log.write(aFerment({ vesselId: vessel.id, strainId: strain.id }));
  await log.write({
    ...{
      kind: 'pitch',
      happenedAt: at(2),
      by,
      fermentId: ferment.id,
      lotId: fresh.id,
      amountL: 20,
    },
  });
  const crop = await log.write({
    ...{ kind: 'crop', happenedAt: at(44), by, fermentId: ferment.id, cut: 'skim 2', amountKg: 10 },
  });
  await log.write({ kind: 'rack', happenedAt: at(46), by, fermentId: ferment.id, batches: [] });
  await log.write({
    ...{ kind: 'count', happenedAt: at(46), by, lotId: crop.id, basis: 'g', chamber: 'Neubauer' },
    ...{ squareAreaMm2: 0.04, depthMm: 0.1, pipettingSteps: 2 },
    fillings: [{ squares: [38, 41, 35, 37, 36, 40, 39, 41], dilutionFactor: 200, dilution: 1 }],
  });
  await log.write({
    ...{ kind: 'stain', happenedAt: at(46), by, lotId: crop.id, stain: 'methylene blue' },
    ...{ live: 388, dead: 12 },
  });
  await log.write({ kind: 'storeReading', happenedAt: at(47), by, lotId: crop.id, tempC: 2 });
  const brew = (onDay: string, beer: string, volumeL = 1200) =>
    log.write({
      ...{ kind: 'plannedBrew', happenedAt: at(47), by, onDay, beer, volumeL },
      ...{ originalGravitySg: 1.04, strainId: strain.id },
    });
  return { ...log, strain, vessel, fresh, ferment, crop, brew };
}
