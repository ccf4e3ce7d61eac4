import { integer, real, sqliteTable, text } from 'drizzle-orm/sqlite-core';
import { checkPurposes, countBases, microOutcomes } from '#shared/words.ts';
import { provenance } from './journal.ts';

export const lotKinds = ['freshCulture', 'crop', 'blend', 'transfer'] as const;

export const lot = sqliteTable('lot', {
  ...provenance,
  kind: text({ enum: lotKinds }).notNull(),
  code: text().notNull(),
  strainId: text().notNull(),
  fermentId: text(),
  baseGeneration: integer(),
  amountL: real(),
  amountKg: real(),
  generation: integer().notNull(),
  timesPitched: integer().notNull(),
  lineId: text().notNull(),
  leftL: real(),
  leftKg: real(),
  siteId: text(),
});

export const lotParent = sqliteTable('lot_parent', {
  lotId: text().notNull(),
  parentId: text().notNull(),
  amountL: real(),
  amountKg: real(),
});

export const storeReading = sqliteTable('store_reading', {
  ...provenance,
  lotId: text().notNull(),
  tempC: real().notNull(),
});

export const cellCount = sqliteTable('cell_count', {
  ...provenance,
  lotId: text().notNull(),
  basis: text({ enum: countBases }).notNull(),
});

export const stain = sqliteTable('stain', {
  ...provenance,
  lotId: text().notNull(),
  stain: text().notNull(),
  live: integer().notNull(),
  dead: integer().notNull(),
});

export const microCheck = sqliteTable('micro_check', {
  ...provenance,
  lotId: text().notNull(),
  medium: text().notNull(),
  looksFor: text(),
  dueMs: integer().notNull(),
  purpose: text({ enum: checkPurposes }),
  cellsPlated: real(),
});

export const microResult = sqliteTable('micro_result', {
  ...provenance,
  checkId: text().notNull(),
  outcome: text({ enum: microOutcomes }).notNull(),
  colonies: integer(),
});

export const treatment = sqliteTable('treatment', {
  ...provenance,
  lotId: text().notNull(),
  treatment: text().notNull(),
  addedL: real(),
  override: text(),
});

export const discard = sqliteTable('discard', {
  ...provenance,
  lotId: text().notNull(),
  amountL: real(),
  amountKg: real(),
  why: text().notNull(),
});

export const hold = sqliteTable('hold', {
  ...provenance,
  lotId: text().notNull(),
  why: text().notNull(),
});

export const release = sqliteTable('release', {
  ...provenance,
  lotId: text().notNull(),
  why: text().notNull(),
});

export const familyHold = sqliteTable('family_hold', {
  ...provenance,
  lotId: text(),
  fermentId: text(),
  why: text().notNull(),
});

export const familyHoldLot = sqliteTable('family_hold_lot', {
  holdId: text().notNull(),
  lotId: text().notNull(),
});

export const familyHoldFerment = sqliteTable('family_hold_ferment', {
  holdId: text().notNull(),
  fermentId: text().notNull(),
});

export const familyRelease = sqliteTable('family_release', {
  ...provenance,
  holdId: text().notNull(),
  why: text().notNull(),
});
