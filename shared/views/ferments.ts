import type { AttenuationReached } from '../ferments/attenuationReached.ts';
import type { HousePast } from '../ferments/housePast.ts';
import type { SlowCauses } from '../ferments/slowCauses.ts';
import type { Override } from '../lots/overrides.ts';
import type { FermentBand, Range } from '../science/fermentBand.ts';
import type { FermentCurve } from '../science/fermentCurve.ts';
import type { RunningAssessment } from '../science/slowFerment.ts';
import type { SiteKey } from '../sites/site.ts';
import type { Recorded, StrainView } from './recorded.ts';

export type FermentState = 'collected' | 'fermenting' | 'chilled' | 'racked';

export type FermentStanding = {
  id: string;
  record: Recorded<'ferment'>;
  siteId: SiteKey;
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

export type FermentFlag = { status: RunningAssessment['status'] | 'no yeast yet'; why: string };

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
/** With what was done all the same to its yeast, and the planned brew it carries out. */
export type FermentSheet = FermentPage & {
  overrides: readonly Override[];
  planned: Recorded<'plannedBrew'> | null;
};

/** Gravities [SG] expected at an hour, and on the fitted curve once there is one. */
export type BandPoint = Range & { hours: number; fittedSg: number | null };
