import type { FreshNeed } from '#shared/plan/freshView.ts';
import type { PitchStep } from '#shared/science/pitchSteps.ts';
import type { BlockReason } from '#shared/science/planStock.ts';
import type { Ranged, Recorded } from '#shared/views/recorded.ts';
import type { SlurryAmount } from './usualSlurry.ts';

/** Yeast that a brew may be fed from: in store, or a crop still to be taken. */
export type PlanSource = {
  /** The lot's id; `crop-` or `fresh-` and the id of what it comes from for yeast to come. */
  id: string;
  kind: 'lot' | 'running crop' | 'planned crop' | 'fresh culture';
  /** The record behind it: the lot, the ferment, the planned brew. */
  recordId: string;
  label: string;
  strainId: string;
  readyAt: string;
  /** Null where the house sets no limit to its keeping. */
  useBy: string | null;
  /** When a crop is likely to be taken; null for yeast that is not cropped. */
  cropFrom: string | null;
  cropTo: string | null;
  /** Null for the crop of a brew that the plan does not feed. */
  generation: number | null;
  /** Living cells when ready. */
  cells: Ranged;
  viabilityPercent: number;
  /** What is left of a lot; a crop to come has none yet. */
  left: { amount: number; unit: 'L' | 'kg' } | null;
  /** Of a crop to come: its cells as so much of the strain's usual slurry; null for other yeast. */
  slurry: SlurryAmount | null;
  heldBecause: string | null;
  /** Share of it that the plan gives away [-]. */
  sharePlanned: number;
  /** Chance that it holds as much as the plan asks of it [-]; null when nothing is asked. */
  chanceEnough: number | null;
  /** Of a crop: how many times the cells pitched must be kept for the plan, and what is usual. */
  toKeep: { ratio: number; usual: Ranged } | null;
  why: PitchStep[];
};

export type PlanPart = {
  sourceId: string;
  label: string;
  /** Living cells given, when the brew is pitched. */
  cells: number;
  /** Of a lot, with the range its figures allow; of a crop to come, as the strain's usual slurry. */
  amount: (Ranged & { unit: 'L' | 'kg' }) | null;
  /** Not measured yet: the amount is what is usual. */
  isToCome: boolean;
  shareOfSource: number;
  generation: number;
  storedDays: number;
  /** Share alive when it is pitched, predicted as for a pitch. */
  viabilityPercent: Ranged;
  isSetByHand: boolean;
  why: PitchStep[];
};

export type PlanOption = { sourceId: string; label: string; blocked: BlockReason | null };

/** What was set by hand for a brew, and whether it can hold. */
export type PlanAllotment = {
  recordId: string;
  entryId: string;
  happenedAt: string;
  /** Null when what it speaks of is gone. */
  sourceId: string | null;
  label: string;
  amount: { value: number; unit: 'L' | 'kg' } | null;
  holds: boolean;
  why: string;
};

export type PlanBrew = {
  /** Of the planned brew, or of a ferment that is collected and waits for yeast. */
  id: string;
  kind: 'planned' | 'collected';
  onDay: string;
  at: string;
  beer: string;
  volumeL: number;
  originalGravitySg: number;
  strainId: string;
  vessel: string | null;
  note: string | null;
  neededCells: number;
  state: 'fed' | 'tight' | 'short';
  generation: number | null;
  parts: PlanPart[];
  chanceEnough: number | null;
  options: PlanOption[];
  allotments: PlanAllotment[];
};

export type PlanShortage = {
  brewId: string;
  onDay: string;
  beer: string;
  strainId: string;
  neededCells: number;
  availableCells: Ranged;
  missingCells: Ranged;
  missingSlurry: SlurryAmount;
  /** Volume for which there is no yeast at the full rate. */
  volumeWithoutL: number;
  blocked: { sourceId: string; label: string; reason: BlockReason; why: string }[];
  /** Crops of which more would help, and how many times the cells pitched would have to be kept. */
  cropMoreOf: { sourceId: string; label: string; readyAt: string; ratio: number; usual: Ranged }[];
};

type PlanYield = {
  strainId: string;
  /** Living cells kept for each one pitched. */
  ratio: Ranged;
  hoursToCrop: Ranged;
  viabilityPercent: Ranged;
  crops: number;
  basis: 'own crops' | 'common practice';
};

export type Plan = {
  at: string;
  timeZone: string;
  fromDay: string;
  toDay: string;
  brews: PlanBrew[];
  /** Planned for the last days, and no gyle came of them: they ask for no yeast. */
  notBrewed: Recorded<'plannedBrew'>[];
  sources: PlanSource[];
  shortages: PlanShortage[];
  yields: PlanYield[];
  fresh: FreshNeed[];
  /** Whether no other way of giving out the yeast feeds more brews, as far as was searched. */
  isProvenBest: boolean;
};
