import * as z from 'zod/mini';
import { choice, quantity, tempC, text, timeZone, volumeL, whole } from '#shared/fields.ts';
import * as words from '#shared/words.ts';
import { note, percent, siteId } from './entryFields.ts';
import { entrySchema } from './envelope.ts';

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
