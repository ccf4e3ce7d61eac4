import type { LotByParts } from '../lots/byParts.ts';
import type { LotLearning } from '../lots/strainLearning.ts';
import type { PlateFigure } from '../micro/plateFigure.ts';
import type { SiteKey } from '../sites/site.ts';
import type { Verdict } from '../verdict.ts';
import type { Ranged, Recorded, StrainView } from './recorded.ts';

export type LotRecord = Recorded<'freshCulture' | 'crop' | 'blend' | 'transfer'>;

export type LotCount = {
  recordId: string;
  at: string;
  ageHours: number;
  basis: 'mL' | 'g';
  /** Cells, dead and alive, per mL or per g. */
  cellsPer: Ranged;
  logSd: number | null;
  cellsCounted: number;
  clumped: boolean;
  stale: boolean;
};

export type LotStain = {
  recordId: string;
  at: string;
  ageHours: number;
  stain: string;
  live: number;
  dead: number;
  percent: Ranged;
  validity: 'valid' | 'at or below';
  note: string;
  /** Expected now from the temperatures since; always a prediction, never a measurement. */
  predictedNow: Ranged & { equivalentDays: number };
};

/** Petites among the colonies of the lot's latest plate that counted them. */
export type LotPetites = {
  recordId: string;
  at: string;
  found: number;
  examined: number;
  percent: Ranged;
};

/** A plate of a lot and what it found, with 95 % limits. */
export type PlateStanding = {
  id: string;
  medium: string;
  looksFor: string;
  purpose: 'routine' | 'suspicion';
  cellsPlated: number | null;
  at: string;
  by: string;
  dueAt: string;
  /** What the medium says the yeast is thrown away at. */
  discardPerMillion: number | null;
  result: {
    id: string;
    at: string;
    by: string;
    outcome: 'clear' | 'found' | 'discard';
    colonies: number | null;
    ofColonies: number | null;
    figure: PlateFigure | null;
  } | null;
};

/** The last acid wash, timed from its end. */
export type LotWash = {
  recordId: string;
  endedAt: string;
  hoursSince: number;
  /** What went beyond the published bounds. */
  findings: string[];
  override: string | null;
};

export type LotStanding = {
  id: string;
  code: string;
  kind: 'freshCulture' | 'crop' | 'blend' | 'transfer';
  record: LotRecord;
  siteId: SiteKey;
  strain: StrainView;
  /** From 0 for a fresh culture; shown by the brewery's own convention. */
  generation: number;
  timesPitched: number;
  lineId: string;
  fromFerment: { id: string; gyle: string; beer: string } | null;
  unit: 'L' | 'kg';
  amount: number;
  left: number;
  takenAt: string;
  ageHours: number;
  count: LotCount | null;
  stain: LotStain | null;
  /** What a blend holds by the lots in it, while nobody counted or stained it; null for others. */
  byParts: LotByParts | null;
  latestTempC: number | null;
  warmestTempC: number | null;
  held: { why: string; since: string; by: string } | null;
  pendingChecks: { id: string; medium: string; dueAt: string; overdue: boolean }[];
  plates: PlateStanding[];
  wash: LotWash | null;
  petites: LotPetites | null;
  /** What the strain's own records teach about lots like this one. */
  learned: LotLearning;
  /** The beer between its cells; null where its gravity was not written down. */
  entrainedBeer: { gravitySg: number; abvPercent: number } | null;
  verdict: Verdict;
};
