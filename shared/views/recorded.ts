import type { EntryOf, RecordKind } from '../entries/entry.ts';

/** A record as it stands: the facts last entered, and where they came from. */
export type Recorded<K extends RecordKind = RecordKind> = EntryOf<K> & {
  id: string;
  entryId: string;
  seq: number;
  receivedAt: string;
  corrected: boolean;
  /** By how much the sender's clock ran ahead of the log's, where it was told [ms]. */
  clockFastMs?: number | undefined;
};

/** A figure with its 95 % range. */
export type Ranged = { value: number; low: number; high: number };

export type StrainView = Recorded<'strain'>;
