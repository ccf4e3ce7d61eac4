import type { SiteKey } from '#shared/sites/site.ts';
import type { FermentStanding } from '#shared/views/ferments.ts';
import type { Recorded, StrainView } from '#shared/views/recorded.ts';

/** What was recorded of one ferment. */
export type FermentEvidence = {
  record: Recorded<'ferment'>;
  siteId: SiteKey;
  vessel: string;
  strain: StrainView;
  pitches: FermentStanding['pitches'];
  readings: readonly Recorded<'reading'>[];
  crops: FermentStanding['crops'];
  chill: Recorded<'chill'> | null;
  rack: Recorded<'rack'> | null;
};
