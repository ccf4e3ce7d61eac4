import { integer, real, sqliteTable, text } from 'drizzle-orm/sqlite-core';
import { provenance } from './journal.ts';

export const ferment = sqliteTable('ferment', {
  ...provenance,
  gyle: text().notNull(),
  beer: text().notNull(),
  vesselId: text().notNull(),
  strainId: text().notNull(),
  volumeL: real().notNull(),
  originalGravitySg: real().notNull(),
  pitchedMs: integer(),
  chilledMs: integer(),
  rackedMs: integer(),
  siteId: text(),
  plannedBrewId: text(),
});

export const pitch = sqliteTable('pitch', {
  ...provenance,
  fermentId: text().notNull(),
  lotId: text().notNull(),
  amountL: real(),
  amountKg: real(),
  expectedViableCells: real(),
  override: text(),
});

export const reading = sqliteTable('reading', {
  ...provenance,
  fermentId: text().notNull(),
  gravitySg: real(),
  tempC: real(),
  ph: real(),
  cellsPerMl: real(),
});

export const chill = sqliteTable('chill', { ...provenance, fermentId: text().notNull() });

export const rack = sqliteTable('rack', {
  ...provenance,
  fermentId: text().notNull(),
  gravitySg: real(),
  batches: text({ mode: 'json' }).$type<readonly string[]>().notNull(),
});
