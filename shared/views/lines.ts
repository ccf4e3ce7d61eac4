import type { SiteKey } from '../sites/site.ts';
import type { LineVerdictWord, Reason } from '../verdict.ts';
import type { Ranged, StrainView } from './recorded.ts';

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
  limits: {
    centre: number;
    sigma: number;
    lower: number;
    upper: number;
    values: number;
    /** The measure cannot go as far as three sigma: its own bound stands in place of the limit. */
    isAtFloor: boolean;
    isAtCeiling: boolean;
  } | null;
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

type LineReason = Reason<LineVerdictWord>;

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

/** A line as it is at one site; where there are several it is judged at each on its own. */
export type LineAtSite = LineSummary & { siteId: SiteKey };

export type LineStanding = LineSummary & { points: LinePoint[] };

/** A line as its page shows it. */
export type LineSheet = LineStanding & { measures: LineMeasureStanding[] };

/** The page of a line at one site, and the sites it has been at. */
export type LineSheetAtSite = LineSheet & { siteId: SiteKey; sites: SiteKey[] };
