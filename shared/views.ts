import type { EntryOf, RecordKind } from './entries/entry.ts';
import type { Verdict } from './verdict.ts';

/** A record as it stands: the facts last entered, and where they came from. */
export type Recorded<K extends RecordKind = RecordKind> = EntryOf<K> & {
  id: string;
  entryId: string;
  seq: number;
  receivedAt: string;
  corrected: boolean;
};

/** A figure with its 95 % range. */
export type Ranged = { value: number; low: number; high: number };

export type StrainView = Recorded<'strain'>;
export type LotRecord = Recorded<'freshCulture' | 'crop' | 'blend'>;

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

export type LotStanding = {
  id: string;
  code: string;
  kind: 'freshCulture' | 'crop' | 'blend';
  record: LotRecord;
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
  latestTempC: number | null;
  warmestTempC: number | null;
  held: { why: string; since: string; by: string } | null;
  pendingChecks: { id: string; medium: string; dueAt: string; overdue: boolean }[];
  verdict: Verdict;
};

export type FermentState = 'collected' | 'fermenting' | 'chilled' | 'racked';

export type FermentStanding = {
  id: string;
  record: Recorded<'ferment'>;
  vessel: string;
  strain: StrainView;
  state: FermentState;
  pitches: (Recorded<'pitch'> & { lotCode: string; generation: number })[];
  readings: Recorded<'reading'>[];
  crops: { lotId: string; code: string; cut: string; at: string }[];
  chill: Recorded<'chill'> | null;
  rack: Recorded<'rack'> | null;
  /** Generation of the yeast in it: the highest pitched; null before pitching. */
  generation: number | null;
  hoursSincePitch: number | null;
  latestGravitySg: number | null;
  apparentAttenuationPercent: number | null;
  halfTimeHours: number | null;
  flag: { status: 'too early' | 'on course' | 'slow' | 'no reading' | 'done'; why: string };
};

export type LinePoint = {
  fermentId: string;
  gyle: string;
  beer: string;
  pitchedAt: string;
  generation: number;
  viabilityPercent: number | null;
  halfTimeHours: number | null;
  apparentAttenuationPercent: number | null;
  cropRatio: number | null;
};

export type LineStanding = {
  id: string;
  code: string;
  strain: StrainView;
  startedAt: string;
  highestGeneration: number;
  lotsInStore: number;
  running: number;
  state: 'settling' | 'steady' | 'due soon' | 'due' | 'ended';
  reasons: Verdict['reasons'];
  points: LinePoint[];
};

export type TodayAction = {
  id: string;
  urgency: 'now' | 'today' | 'soon';
  title: string;
  detail: string;
  href: string;
  /** What tapping it starts, in one or two words: "Crop", "Count". */
  verb: string;
};

export type Today = { at: string; actions: TodayAction[] };

export type Setup = {
  brewery: Recorded<'brewery'> | null;
  strains: StrainView[];
  vessels: (Recorded<'vessel'> & { holds: { fermentId: string; gyle: string } | null })[];
  plannedBrews: Recorded<'plannedBrew'>[];
};
