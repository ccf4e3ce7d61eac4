import type { EntryOf, RecordKind } from './entries/entry.ts';
import type { AttenuationReached } from './ferments/attenuationReached.ts';
import type { HousePast } from './ferments/housePast.ts';
import type { SlowCauses } from './ferments/slowCauses.ts';
import type { LotLearning } from './lots/strainLearning.ts';
import type { Medium } from './micro/media.ts';
import type { PlateFigure } from './micro/plateFigure.ts';
import type { FermentBand, Range } from './science/fermentBand.ts';
import type { FermentCurve } from './science/fermentCurve.ts';
import type { RunningAssessment } from './science/slowFerment.ts';
import type { LineVerdictWord, Reason, Verdict } from './verdict.ts';

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
  plates: PlateStanding[];
  wash: LotWash | null;
  petites: LotPetites | null;
  /** What the strain's own records teach about lots like this one. */
  learned: LotLearning;
  /** The beer between its cells; null where its gravity was not written down. */
  entrainedBeer: { gravitySg: number; abvPercent: number } | null;
  verdict: Verdict;
};

export type FermentState = 'collected' | 'fermenting' | 'chilled' | 'racked';

export type FermentStanding = {
  id: string;
  record: Recorded<'ferment'>;
  vessel: string;
  strain: StrainView;
  state: FermentState;
  pitches: (Recorded<'pitch'> & {
    lotCode: string;
    generation: number;
    /** Of the lot, and by its last stain before the pitch; left out where it is not known. */
    lotTakenAt?: string | undefined;
    viabilityPercent?: number | undefined;
  })[];
  readings: Recorded<'reading'>[];
  crops: { lotId: string; code: string; cut: string; at: string }[];
  chill: Recorded<'chill'> | null;
  rack: Recorded<'rack'> | null;
  /** Generation of the yeast in it: the highest pitched; null before pitching. */
  generation: number | null;
  hoursSincePitch: number | null;
  latestGravitySg: number | null;
  apparentAttenuationPercent: number | null;
  /** Once it is over: from the fitted curve where the readings allow, else between readings. */
  halfTimeHours: number | null;
  flag: FermentFlag;
  /** Only while it ferments. */
  running: RunningCourse | null;
};

export type FermentFlag = { status: RunningAssessment['status']; why: string };

/** What a ferment is held to, and what that rests on. */
export type FermentExpectation = Pick<
  FermentBand,
  'basis' | 'pastFerments' | 'confidence' | 'halfTimeHours' | 'endGravitySg'
> &
  Pick<HousePast, 'group'> & { ofThisBeer: number };

export type RunningCourse = RunningAssessment &
  SlowCauses & {
    rackingGravitySg: number;
    expectation: FermentExpectation;
    /** Since the last gravity, else since the pitch. */
    hoursUnread: number;
  };

export type FermentResult = {
  curve: FermentCurve;
  reached: AttenuationReached | null;
  presentGravityFrom: 'racking' | 'the last reading';
};

/** What the page of a ferment shows beside its standing. */
export type FermentDetail = {
  /** Every gravity as written down, with what was expected at its hour; null before the pitch. */
  gravities: {
    recordId: string;
    hours: number;
    gravitySg: number;
    expected: Range | null;
    fittedSg: number | null;
  }[];
  /** What is odd about a gravity, and what was done about it. */
  notes: { recordId: string; message: string }[];
  band: (FermentExpectation & { points: BandPoint[] }) | null;
  result: FermentResult | null;
};

export type FermentPage = FermentStanding & FermentDetail;

/** Gravities [SG] expected at an hour, and on the fitted curve once there is one. */
export type BandPoint = Range & { hours: number; fittedSg: number | null };

export type LineMeasureKey =
  | 'viabilityPercent'
  | 'halfTimeHours'
  | 'apparentAttenuationPercent'
  | 'cropRatio'
  | 'suspendedMillionPerMl'
  | 'petitePercent';

/** One ferment of a line, with each measure as far as it was taken. */
export type LinePoint = {
  fermentId: string;
  gyle: string;
  beer: string;
  pitchedAt: string;
  generation: number;
  /** 95 % ranges of the two that are counted. */
  viabilityRange: Ranged | null;
  petiteRange: Ranged | null;
} & Record<LineMeasureKey, number | null>;

/** Whether a measure of a line drifts or merely varies. */
export type LineMeasureDrift = {
  key: LineMeasureKey;
  state: 'not measured' | 'settling' | 'steady' | 'drifting' | 'too few';
  /** Drifting to the side that is worse. */
  isDecline: boolean;
  since: number | null;
  direction: 'higher' | 'lower' | null;
  /** How it was told, in words. */
  evidence: string;
  /** Individuals chart whose limits the settled generations set; null where they cannot. */
  limits: { centre: number; sigma: number; lower: number; upper: number; values: number } | null;
  last: { fermentId: string; value: number } | null;
};

/** The same with all that its chart is drawn from. */
export type LineMeasureStanding = LineMeasureDrift & {
  points: LineMeasurePoint[];
  /** Mann-Kendall and Theil-Sen over all but the first generations; null below three values. */
  trend: {
    values: number;
    s: number;
    variance: number;
    pValue: number;
    slopePerGeneration: number;
    slopeLow: number;
    slopeHigh: number;
  } | null;
};

export type LineMeasurePoint = {
  fermentId: string;
  generation: number;
  value: number;
  /** The first generations are fresh: shown, but neither limit nor decline. */
  role: 'fresh' | 'baseline' | 'judged';
  /** The moving average and its limits, in the unit of the measure. */
  average: { value: number; lower: number; upper: number; isOut: boolean } | null;
  /** Runs rules that end here. */
  patterns: string[];
};

export type LineReason = Reason<LineVerdictWord>;

export type LineSummary = {
  id: string;
  code: string;
  strain: StrainView;
  startedAt: string;
  highestGeneration: number;
  lotsInStore: number;
  running: number;
  state: LineVerdictWord | 'ended';
  reasons: LineReason[];
};

export type LineStanding = LineSummary & { points: LinePoint[] };

/** A line as its page shows it. */
export type LineSheet = LineStanding & { measures: LineMeasureStanding[] };

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
  /** Presets and the brewery's own, by name. */
  media: Medium[];
  /** None in a brewery that never named one. */
  sites: Recorded<'site'>[];
  /** The first site: it holds whatever names none. */
  homeId: string | null;
  /** The site these are of, where there are two or more. */
  siteId: string | null;
};
