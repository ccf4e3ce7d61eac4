import type { SheetKind } from '#shared/imports/sheets.ts';

/** What each kind of file of old records is called. */
export const sheetWords: Record<SheetKind, string> = {
  ferments: 'Ferments',
  lots: 'Yeast lots',
  pitches: 'Pitches',
  readings: 'Readings',
  counts: 'Counts and stains',
};
