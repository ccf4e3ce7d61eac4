import { integer, real, sqliteTable, text } from 'drizzle-orm/sqlite-core';
import { cropKinds, pendingCheckPolicies, plateReadings } from '#shared/words.ts';
import { provenance } from './journal.ts';

export const brewery = sqliteTable('brewery', {
  ...provenance,
  name: text().notNull(),
  firstGeneration: integer().notNull(),
});

export const strain = sqliteTable('strain', {
  ...provenance,
  name: text().notNull(),
  code: text().notNull(),
  crops: text({ enum: cropKinds }).notNull(),
  pendingRoutineCheck: text({ enum: pendingCheckPolicies }),
});

export const vessel = sqliteTable('vessel', {
  ...provenance,
  name: text().notNull(),
  capacityL: real(),
  siteId: text(),
});

export const site = sqliteTable('site', {
  ...provenance,
  name: text().notNull(),
  code: text().notNull(),
  homeId: text().notNull(),
});

export const plannedBrew = sqliteTable('planned_brew', {
  ...provenance,
  onDay: text().notNull(),
  beer: text().notNull(),
  volumeL: real().notNull(),
  originalGravitySg: real().notNull(),
  strainId: text().notNull(),
  vesselId: text(),
  siteId: text(),
});

export const medium = sqliteTable('medium', {
  ...provenance,
  name: text().notNull(),
  looksFor: text().notNull(),
  reads: text({ enum: plateReadings }).notNull(),
  readAfterDays: real().notNull(),
  discardPerMillion: real(),
  retired: integer({ mode: 'boolean' }).notNull(),
});
