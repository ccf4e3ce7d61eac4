import * as z from 'zod/mini';
import {
  amountKg,
  amountL,
  choice,
  day,
  gravitySg,
  moment,
  quantity,
  reference,
  tempC,
  text,
  timeZone,
  volumeL,
  whole,
} from '#shared/fields.ts';
import { stainNames } from '#shared/science/stains.ts';
import * as words from '#shared/words.ts';
import { entrySchema } from './envelope.ts';

const note = z.optional(text('Note', 1000));
const place = z.optional(text('Place', 60));
const container = z.optional(text('Container', 60));
const lotId = reference('The lot');
const fermentId = reference('The ferment');
const strainId = reference('The strain');
const vesselId = reference('The fermenter');
/** Left out: the first site, which is the only one in most breweries. */
const siteId = z.optional(reference('The site'));
const code = z.optional(
  text('Lot code', 20).check(
    z.regex(/^[A-Z0-9][A-Z0-9-]*$/, { error: 'Lot code may hold capital letters, digits and -' }),
  ),
);
const amount = { amountL: z.optional(amountL), amountKg: z.optional(amountKg) };
const percent = (label: string) => quantity(label, '%', { min: 0, max: 100 });
const cells = (label: string) => quantity(label, 'cells', { min: 0, max: 1e18 });

const filling = z.strictObject({
  squares: z
    .array(whole('Cells in a square', { min: 0, max: 10_000 }), { error: 'Squares must be a list' })
    .check(
      z.minLength(1, { error: 'Count one square at least' }),
      z.maxLength(400, { error: 'At most 400 squares in one filling' }),
    ),
  /** Total dilution: parts final to parts sample; for a weighed sample, mL final per gram. */
  dilutionFactor: quantity('Dilution factor', '(1 is undiluted)', { min: 1, max: 1e7 }),
  /** Which independent dilution this filling was drawn from, counted from 1. */
  dilution: whole('Dilution', { min: 1, max: 20 }),
});

const chamberCount = {
  chamber: text('Chamber', 60),
  squareAreaMm2: quantity('Area of a square', 'mm²', { min: 1e-6, max: 100 }),
  depthMm: quantity('Depth', 'mm', { min: 1e-3, max: 5 }),
  pipettingSteps: whole('Pipetting steps', { min: 0, max: 10 }),
  diluent: z.optional(text('Diluent', 60)),
  fillings: z
    .array(filling, { error: 'Fillings must be a list' })
    .check(
      z.minLength(1, { error: 'Count one side of the slide at least' }),
      z.maxLength(20, { error: 'At most 20 fillings in one count' }),
    ),
};

export const brewery = entrySchema('brewery', {
  name: text('Name of the brewery', 80),
  timeZone: timeZone('Time zone'),
  firstGeneration: z.union([z.literal(0), z.literal(1)], {
    error: 'A fresh culture counts as generation 0 or 1',
  }),
  volumeUnit: choice('Volume unit', words.volumeUnits),
  massUnit: choice('Weight unit', words.massUnits),
  gravityUnit: choice('Gravity unit', words.gravityUnits),
  temperatureUnit: choice('Temperature unit', words.temperatureUnits),
  budRule: choice('Bud rule', words.budRules),
  edgeRule: choice('Edge rule', words.edgeRules),
  chamberCvPercent: quantity('Spread of chamber filling', '%', { min: 0, max: 50 }),
  pipettingCvPercent: quantity('Spread of a pipetting step', '%', { min: 0, max: 50 }),
});

/** The strain and its policy: the limits every verdict is judged by. */
export const strain = entrySchema('strain', {
  name: text('Name of the strain', 60),
  code: text('Short code', 4).check(
    z.regex(/^[A-Z][A-Z0-9]{0,3}$/, { error: 'Short code is 1 to 4 capital letters or digits' }),
  ),
  crops: choice('Cropped from', words.cropKinds),
  rateMillionPerMlPerPlato: quantity('Pitching rate', 'million cells per mL per °P', {
    above: 0,
    max: 10,
  }),
  tempLowC: tempC,
  tempHighC: tempC,
  maxGenerations: whole('Most generations', { min: 1, max: 1000 }),
  maxStorageDays: quantity('Most days in store', 'days', { above: 0, max: 60 }),
  storeLowC: tempC,
  storeHighC: tempC,
  minViabilityPercent: percent('Least viability'),
  staleCountHours: quantity('A count is stale after', 'hours', { above: 0, max: 336 }),
  leadTimeDays: quantity('Lead time for fresh culture', 'days', { min: 0, max: 120 }),
  pendingRoutineCheck: z.optional(
    choice('What a routine plate not yet read does', words.pendingCheckPolicies),
  ),
  note,
});

/** One of several places the brewery brews at; the first holds all that names none. */
export const site = entrySchema('site', {
  name: text('Name of the site', 40),
  code: text('Short code of the site', 4).check(
    z.regex(/^[A-Z]{1,4}$/, { error: 'Short code of the site is 1 to 4 capital letters' }),
  ),
  /** Left out: as the brewery. */
  timeZone: z.optional(timeZone('Time zone')),
  note,
});

export const vessel = entrySchema('vessel', {
  name: text('Name of the fermenter', 20),
  capacityL: z.optional(volumeL),
  siteId,
});

export const freshCulture = entrySchema('freshCulture', {
  strainId,
  origin: choice('Origin', words.freshOrigins),
  supplier: z.optional(text('Supplier or slope', 80)),
  generation: whole('Generation', { min: 0, max: 100 }),
  siteId,
  code,
  ...amount,
  container,
  place,
  note,
});

export const ferment = entrySchema('ferment', {
  gyle: text('Gyle number', 12).check(
    z.regex(/^[A-Z0-9][A-Z0-9/-]*$/, {
      error: 'Gyle number may hold capital letters, digits, / and -',
    }),
  ),
  beer: text('Beer', 60),
  vesselId,
  strainId,
  volumeL,
  originalGravitySg: gravitySg,
  setTempC: z.optional(tempC),
  oxygenMgPerL: z.optional(quantity('Dissolved oxygen', 'mg/L', { min: 0, max: 60 })),
  zincMgPerL: z.optional(quantity('Zinc', 'mg/L', { min: 0, max: 20 })),
  fanMgPerL: z.optional(quantity('Free amino nitrogen', 'mg/L', { min: 0, max: 1000 })),
  note,
});

export const pitch = entrySchema('pitch', {
  fermentId,
  lotId,
  ...amount,
  /** Viable cells the amount was expected to carry, with its 95 % range. */
  expectedViableCells: z.optional(cells('Cells expected')),
  expectedLowCells: z.optional(cells('Fewest cells expected')),
  expectedHighCells: z.optional(cells('Most cells expected')),
  /** Found over promised in the FV, where the cells expected were corrected by it. */
  slurryCorrection: z.optional(
    quantity('Correction from counts in the FV', '', { above: 0, max: 10 }),
  ),
  /** Why a lot that should not be pitched was pitched all the same. */
  override: z.optional(text('The reason for pitching all the same', 500)),
  note,
});

export const reading = entrySchema('reading', {
  fermentId,
  gravitySg: z.optional(gravitySg),
  tempC: z.optional(tempC),
  ph: z.optional(quantity('pH', '', { min: 2, max: 9 })),
  cellsPerMl: z.optional(quantity('Cells in suspension', 'cells per mL', { min: 0, max: 1e10 })),
  /** The chamber count of the cells in suspension, where there is one; in place of the figure. */
  count: z.optional(z.strictObject(chamberCount)),
  note,
});

export const chill = entrySchema('chill', { fermentId, toTempC: z.optional(tempC), note });

export const rack = entrySchema('rack', {
  fermentId,
  gravitySg: z.optional(gravitySg),
  batches: z
    .array(text('Cask batch', 40), { error: 'Cask batches must be a list' })
    .check(z.maxLength(60, { error: 'At most 60 cask batches in one racking' })),
  note,
});

export const crop = entrySchema('crop', {
  fermentId,
  cut: choice('Cut', words.cuts),
  gravitySg: z.optional(gravitySg),
  code,
  ...amount,
  container,
  place,
  look: z.optional(text('Look', 200)),
  smell: z.optional(text('Smell', 200)),
  note,
});

export const blend = entrySchema('blend', {
  parents: z
    .array(z.strictObject({ lotId, ...amount }), { error: 'Lots blended must be a list' })
    .check(
      z.minLength(2, { error: 'A blend needs two lots or more' }),
      z.maxLength(12, { error: 'A blend takes at most 12 lots' }),
    ),
  code,
  ...amount,
  container,
  place,
  /** Why a lot on hold was mixed in all the same. */
  override: z.optional(text('The reason for mixing it in all the same', 500)),
  note,
});

/** Yeast sent to another site: a lot there of the same generation and line. */
export const transfer = entrySchema('transfer', {
  lotId,
  toSiteId: reference('The site it goes to'),
  ...amount,
  /** The sent lot's code with the site's behind it is longer than a code given by hand. */
  code: z.optional(
    text('Lot code', 28).check(
      z.regex(/^[A-Z0-9][A-Z0-9-]*$/, { error: 'Lot code may hold capital letters, digits and -' }),
    ),
  ),
  container,
  place,
  note,
});

export const storeReading = entrySchema('storeReading', { lotId, tempC, place, note });

export const count = entrySchema('count', {
  lotId,
  basis: choice('Basis', words.countBases),
  ...chamberCount,
  note,
});

export const stain = entrySchema('stain', {
  lotId,
  stain: choice('Stain', stainNames),
  live: whole('Live cells', { min: 0, max: 100_000 }),
  dead: whole('Dead cells', { min: 0, max: 100_000 }),
  note,
});

/** A medium or test of the brewery's own, or in place of the preset of that name. */
export const medium = entrySchema('medium', {
  name: text('Name of the medium', 60),
  looksFor: text('What it looks for', 120),
  reads: choice('What is read', words.plateReadings),
  readAfterDays: quantity('Read after', 'days', { above: 0, max: 60 }),
  tempC: z.optional(tempC),
  discardPerMillion: z.optional(
    quantity('Discard limit', 'per million cells', { above: 0, max: 1e6 }),
  ),
  retired: z.optional(z.boolean({ error: 'No longer used must be true or false' })),
  note,
});

export const microCheck = entrySchema('microCheck', {
  lotId,
  medium: text('Medium', 60),
  looksFor: text('What it looks for', 120),
  cellsPlated: z.optional(cells('Cells plated')),
  dueAt: moment('When to read it'),
  /** Left out: routine. */
  purpose: z.optional(choice('Why it was plated', words.checkPurposes)),
  note,
});

export const microResult = entrySchema('microResult', {
  checkId: reference('The check'),
  outcome: choice('Outcome', words.microOutcomes),
  colonies: z.optional(whole('Colonies', { min: 0, max: 100_000 })),
  /** Where a share is read, such as petites: of how many colonies looked at. */
  ofColonies: z.optional(whole('Colonies looked at', { min: 1, max: 100_000 })),
  note,
});

export const treatment = entrySchema('treatment', {
  lotId,
  treatment: choice('Treatment', words.treatmentKinds),
  agent: z.optional(text('Acid or agent', 60)),
  ph: z.optional(quantity('pH', '', { min: 1, max: 9 })),
  tempC: z.optional(tempC),
  minutes: z.optional(quantity('Minutes', 'minutes', { min: 0, max: 10_000 })),
  addedL: z.optional(quantity('Volume added', 'litres', { min: 0, max: 20_000 })),
  /** Why yeast that should not be washed was washed all the same. */
  override: z.optional(text('The reason for washing all the same', 500)),
  note,
});

export const discard = entrySchema('discard', { lotId, ...amount, why: text('Why', 200), note });

export const hold = entrySchema('hold', { lotId, why: text('Why', 500) });

export const release = entrySchema('release', { lotId, why: text('Why', 500) });

const mostHeld = 20_000;
const members = (label: string, of: typeof lotId) =>
  z.optional(
    z
      .array(of, { error: `${label} must be a list` })
      .check(z.maxLength(mostHeld, { error: `At most ${mostHeld} in one hold` })),
  );

/**
 * Holds a lot, or what a ferment gave, and all that comes from it: lots still in store are held,
 * ferments and their casks are marked. The lists are filled when it is written down.
 */
export const familyHold = entrySchema('familyHold', {
  lotId: z.optional(lotId),
  fermentId: z.optional(fermentId),
  why: text('Why', 500),
  lotIds: members('Lots held', lotId),
  fermentIds: members('Ferments marked', fermentId),
});

/** Lifts one such hold from all it touched. */
export const familyRelease = entrySchema('familyRelease', {
  holdId: reference('The hold'),
  why: text('Why', 500),
});

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

/** Strikes an entry out; the entry stays legible in the history. */
export const voiding = z.strictObject({
  kind: z.literal('void'),
  happenedAt: moment('When it happened'),
  by: text('Who did it', 80),
  supersedes: reference('The entry struck out'),
  reason: text('The reason', 500),
});
