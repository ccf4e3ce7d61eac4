import type { HoldEvidence } from '#shared/lots/holding.ts';
import type { Override } from '#shared/lots/overrides.ts';
import type { SiteKey } from '#shared/sites/site.ts';
import type { PendingCheckPolicy } from '#shared/words.ts';
import type { Family, Part } from './family.ts';
import type { Edge } from './reach.ts';

export type StepKind = 'pitch' | 'crop' | 'blend' | 'transfer' | 'rack';
export type TraceEdge = Edge & { kind: StepKind };
export type Told = { at: string; by: string };
export type TracedLot = {
  id: string;
  key: number;
  code: string;
  origin: 'freshCulture' | 'crop' | 'blend' | 'transfer';
  strain: string;
  siteId: SiteKey;
  generation: number;
  at: string;
  unit: 'L' | 'kg';
  left: number;
  pendingRoutineCheck: PendingCheckPolicy | undefined;
};
export type TracedFerment = {
  id: string;
  key: number;
  gyle: string;
  beer: string;
  vessel: string;
  strain: string;
  siteId: SiteKey;
  /** Of the yeast in it; null before pitching. */
  generation: number | null;
  at: string;
  state: 'collected' | 'fermenting' | 'chilled' | 'racked';
};
export type TracedRack = {
  id: string;
  key: number;
  fermentId: string;
  at: string;
  batches: readonly string[];
};
export type FamilyMark = Told & { why: string; released: { at: string } | null };

/** A hold of a whole family that touches what is traced. */
export type FamilyHoldView = Told & {
  id: string;
  entryId: string;
  why: string;
  lotId: string | null;
  fermentId: string | null;
  lots: number;
  ferments: number;
  released: (Told & { why: string }) | null;
};

export type TraceOrigin = {
  /** The record asked for. */
  id: string;
  /** The record in the family it belongs to: a plate belongs to its lot. */
  nodeId: string;
  kind: 'lot' | 'ferment' | 'casks' | 'plate';
  label: string;
};

export type TraceEvidence = {
  origin: TraceOrigin;
  /** All of it, and the part that is told; what follows is of the records told. */
  family: Family;
  part: Part;
  lots: readonly TracedLot[];
  ferments: readonly TracedFerment[];
  racks: readonly TracedRack[];
  overrides: readonly Override[];
  /** Parents of what lies below that do not come from the record traced. */
  otherParents: readonly { child: string; code: string }[];
  holding: (lotId: string) => HoldEvidence;
  marks: ReadonlyMap<string, readonly FamilyMark[]>;
  holds: readonly FamilyHoldView[];
};
