import { real, sqliteTable, text } from 'drizzle-orm/sqlite-core';
import { freshSources } from '#shared/words.ts';
import { provenance } from './journal.ts';

export const allotment = sqliteTable('allotment', {
  ...provenance,
  plannedBrewId: text().notNull(),
  fromLotId: text(),
  fromFermentId: text(),
  fromBrewId: text(),
  amountL: real(),
  amountKg: real(),
});

export const freshCulturePolicy = sqliteTable('fresh_culture_policy', {
  ...provenance,
  strainId: text().notNull(),
  comesFrom: text({ enum: freshSources }).notNull(),
});
