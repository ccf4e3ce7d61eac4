import type { Recorded } from '#shared/views/recorded.ts';
import type { cuts } from '#shared/words.ts';

/** How a lot came to be: what its figures are like depends on it. */
export type LotOrigin = (typeof cuts)[number] | 'fresh culture' | 'blend' | 'sent';

/** How the yeast of a lot was come by; a crop by its cut. */
export const lotOrigin = (
  record:
    | Pick<Recorded<'freshCulture' | 'blend' | 'transfer'>, 'kind'>
    | Pick<Recorded<'crop'>, 'kind' | 'cut'>,
): LotOrigin => {
  switch (record.kind) {
    case 'crop':
      return record.cut;
    case 'freshCulture':
      return 'fresh culture';
    case 'blend':
      return 'blend';
    case 'transfer':
      return 'sent';
  }
};

export type LotKind = { origin: LotOrigin; unit: 'L' | 'kg' };

/** A lot stained more than once, with the temperatures and treatments that may lie between. */
export type StainedLot = {
  stains: readonly Recorded<'stain'>[];
  storeReadings: readonly Recorded<'storeReading'>[];
  treatments: readonly Recorded<'treatment'>[];
};

/** Cells found in a wort soon after pitching, and what went in. */
export type FvCount = {
  found: Recorded<'reading'>;
  volumeL: number;
  pitches: readonly {
    pitch: Recorded<'pitch'>;
    lot: LotKind;
    counts: readonly Recorded<'count'>[];
  }[];
};

/** What the log holds of a strain that its next lot can be judged by; the latest first. */
export type StrainHistory = {
  storeHighC: number;
  counts: readonly { lot: LotKind; count: Recorded<'count'> }[];
  stainedLots: readonly StainedLot[];
  fvCounts: readonly FvCount[];
};

/** Hours after pitching in which no bud is yet a cell. Common practice, no source. */
export const FV_COUNT_WITHIN_HOURS = 6;
