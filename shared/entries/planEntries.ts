import * as z from 'zod/mini';
import { choice, day, gravitySg, quantity, reference, text, volumeL } from '#shared/fields.ts';
import * as words from '#shared/words.ts';
import { amount, fermentId, lotId, note, siteId, strainId, vesselId } from './entryFields.ts';
import { entrySchema } from './envelope.ts';

export const plannedBrew = entrySchema('plannedBrew', {
  onDay: day('Brew day'),
  beer: text('Beer', 60),
  volumeL,
  originalGravitySg: gravitySg,
  strainId,
  vesselId: z.optional(vesselId),
  /** Left out: that of the fermenter, else the first. */
  siteId,
  note,
});

/** Which yeast a planned brew is to get, set by hand: of a lot, or of a crop still to be taken. */
export const allotment = entrySchema('allotment', {
  plannedBrewId: reference('The planned brew'),
  fromLotId: z.optional(lotId),
  fromFermentId: z.optional(fermentId),
  fromBrewId: z.optional(reference('The brew whose crop is meant')),
  /** Of a lot: what is set aside; as much as the brew needs when left out. */
  ...amount,
  note,
});

const money = (label: string) =>
  z.optional(quantity(label, 'of your own money', { min: 0, max: 1e9 }));
const density = (label: string) =>
  z.optional(quantity(label, 'cells per mL', { above: 0, max: 1e10 }));

/** How fresh culture of a strain comes in, and what it and a lost brew cost: the brewery's figures. */
export const freshCulturePolicy = entrySchema('freshCulturePolicy', {
  strainId,
  comesFrom: choice('Where it comes from', words.freshSources),
  /** Ordered or woken already, and when it is to be there. */
  expectedOn: z.optional(day('Expected on')),
  firstVolumeL: z.optional(quantity('First step', 'litres', { above: 0, max: 1000 })),
  greatestStepRatio: z.optional(quantity('Greatest step', 'times', { above: 1, max: 100 })),
  daysPerStep: z.optional(quantity('Days per step', 'days', { above: 0, max: 30 })),
  stillCellsPerMl: density('Cells of a step that stands still'),
  aeratedCellsPerMl: density('Cells of an aerated step'),
  freshCultureCost: money('Cost of a fresh culture'),
  handlingCostPerBrew: money('Cost of handling per brew'),
  extraCostPerGeneration: money('Extra cost per generation'),
  lostBrewCost: money('Cost of a lost brew'),
  lostBrewPercent: z.optional(quantity('Chance of a lost brew', '%', { min: 0, max: 100 })),
  lostBrewRisePercent: z.optional(quantity('Rise per generation', '%', { min: 0, max: 100 })),
  note,
});
