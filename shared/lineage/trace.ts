import { type HoldEvidence, heldBy, holdingsOf } from '#shared/lots/holding.ts';
import { plateWords } from '#shared/micro/plateFigure.ts';
import type { PendingCheckPolicy } from '#shared/words.ts';
import { grouped } from '../grouped.ts';
import { ancestorsOf, descendantsOf, type Edge, type Reached } from './reach.ts';

export type StepKind = 'pitch' | 'crop' | 'blend' | 'transfer' | 'rack';
export type TraceEdge = Edge & { kind: StepKind };
/** A step as the walk found it: above the record traced, or below. */
export type WalkedEdge = TraceEdge & { isUp: boolean };

type Told = { at: string; by: string };
export type TracedLot = {
  id: string;
  code: string;
  origin: 'freshCulture' | 'crop' | 'blend' | 'transfer';
  strain: string;
  generation: number;
  at: string;
  unit: 'L' | 'kg';
  left: number;
  pendingRoutineCheck: PendingCheckPolicy | undefined;
  /** Why something on hold was mixed into it all the same. */
  mixed: (Told & { why: string }) | null;
};
export type TracedFerment = {
  id: string;
  gyle: string;
  beer: string;
  vessel: string;
  strain: string;
  /** Of the yeast in it; null before pitching. */
  generation: number | null;
  at: string;
  state: 'collected' | 'fermenting' | 'chilled' | 'racked';
};
export type TracedRack = {
  id: string;
  fermentId: string;
  at: string;
  batches: readonly string[];
};
export type TracedOverride = Told & { lotId: string; fermentId: string; why: string };
type FamilyMark = Told & { why: string; released: { at: string } | null };

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
  edges: readonly WalkedEdge[];
  /** False when the family was too large to be told whole. */
  isWhole: boolean;
  lots: readonly TracedLot[];
  ferments: readonly TracedFerment[];
  racks: readonly TracedRack[];
  overrides: readonly TracedOverride[];
  /** Parents of what lies below that do not come from the record traced. */
  otherParents: readonly { child: string; code: string }[];
  holding: (lotId: string) => HoldEvidence;
  marks: ReadonlyMap<string, readonly FamilyMark[]>;
  holds: readonly FamilyHoldView[];
};

export type TraceMark = Told & {
  what: 'on hold' | 'grew' | 'not read' | 'clear' | 'look at it' | 'pitched all the same';
  text: string;
  /** Lifted since, or of no more moment. */
  isOver: boolean;
};

export type TraceNode = {
  id: string;
  kind: 'lot' | 'ferment' | 'casks';
  label: string;
  detail: string;
  generation: number | null;
  at: string;
  state: 'in store' | 'used up' | TracedFerment['state'] | 'in cask';
  /** The gravest mark that still stands. */
  status: 'plain' | 'held' | 'grew' | 'attention';
  left: { value: number; unit: 'L' | 'kg' } | null;
  batches: readonly string[];
  side: 'start' | 'upstream' | 'downstream';
  steps: number;
  /** The neighbour one step nearer to the record traced. */
  through: string | null;
  alsoFrom: readonly string[];
  marks: readonly TraceMark[];
};

export type Trace = {
  of: TraceOrigin;
  nodes: TraceNode[];
  edges: TraceEdge[];
  isWhole: boolean;
  holds: readonly FamilyHoldView[];
};

/** The family of a record: what lies above and below it, how each is reached, how each stands. */
export function traceOf(evidence: TraceEvidence): Trace {
  const { origin, edges } = evidence;
  const up = ancestorsOf(
    origin.nodeId,
    edges.filter(({ isUp }) => isUp),
  );
  const down = descendantsOf(
    origin.nodeId,
    edges.filter(({ isUp }) => !isUp),
  );
  const sideOf = (id: string): Pick<TraceNode, 'side'> & Reached => {
    if (id === origin.nodeId) return { side: 'start', steps: 0, through: null };
    const above = up.get(id);
    if (above !== undefined) return { side: 'upstream', ...above };
    return { side: 'downstream', ...(down.get(id) ?? { steps: 0, through: null }) };
  };
  const parents = grouped(evidence.otherParents, ({ child }) => child);
  const place = (id: string) => ({
    ...sideOf(id),
    alsoFrom: (parents.get(id) ?? []).map(({ code }) => code),
  });
  return {
    of: origin,
    nodes: nodesOf(evidence)
      .map((node) => ({ ...node, ...place(node.id) }))
      .sort((a, b) => a.at.localeCompare(b.at)),
    edges: edges.map(({ parent, child, kind }) => ({ parent, child, kind })),
    isWhole: evidence.isWhole,
    holds: evidence.holds,
  };
}

type Unplaced = Omit<TraceNode, 'side' | 'steps' | 'through' | 'alsoFrom'>;

function nodesOf(evidence: TraceEvidence): Unplaced[] {
  const byLot = grouped(evidence.overrides, ({ lotId }) => lotId);
  const byFerment = grouped(evidence.overrides, ({ fermentId }) => fermentId);
  const ferments = new Map(evidence.ferments.map((ferment) => [ferment.id, ferment]));
  const marked = (fermentId: string) => [
    ...(evidence.marks.get(fermentId) ?? []).map(attention),
    ...(byFerment.get(fermentId) ?? []).map(pitchedAllTheSame),
  ];
  return [
    ...evidence.lots.map((lot) =>
      lotNode(lot, evidence.holding(lot.id), (byLot.get(lot.id) ?? []).map(pitchedAllTheSame)),
    ),
    ...evidence.ferments.map((ferment) => fermentNode(ferment, marked(ferment.id))),
    ...evidence.racks.map((rack) =>
      caskNode(rack, ferments.get(rack.fermentId), marked(rack.fermentId)),
    ),
  ];
}

const origins = {
  freshCulture: 'Fresh culture',
  crop: 'Crop',
  blend: 'Mixed lot',
  transfer: 'Sent from another site',
} as const;

function lotNode(lot: TracedLot, evidence: HoldEvidence, overrides: TraceMark[]): Unplaced {
  const isInStore = lot.left > 0;
  const held = isInStore ? heldBy(holdingsOf(evidence, lot)) : undefined;
  const marks: TraceMark[] = [
    ...(held === undefined
      ? []
      : [
          {
            what: 'on hold' as const,
            text: held.why,
            at: held.since,
            by: held.by,
            isOver: false,
          },
        ]),
    ...plates(evidence),
    ...overrides,
    ...(lot.mixed === null ? [] : [pitchedAllTheSame(lot.mixed)]),
  ];
  return {
    id: lot.id,
    kind: 'lot',
    label: lot.code,
    detail: `${origins[lot.origin]} of ${lot.strain}`,
    generation: lot.generation,
    at: lot.at,
    state: isInStore ? 'in store' : 'used up',
    status: statusOf(marks),
    left: isInStore ? { value: lot.left, unit: lot.unit } : null,
    batches: [],
    marks,
  };
}

function plates({ checks, results }: HoldEvidence): TraceMark[] {
  const read = new Map(results.map((result) => [result.checkId, result]));
  return checks.map((check): TraceMark => {
    const result = read.get(check.id);
    if (result === undefined)
      return {
        what: 'not read',
        text: `${check.medium} for ${check.looksFor}`,
        at: check.happenedAt,
        by: check.by,
        isOver: false,
      };
    const seen = plateWords({ ...result, cellsPlated: check.cellsPlated });
    return {
      what: result.outcome === 'clear' ? 'clear' : 'grew',
      text: seen === '' ? check.medium : `${check.medium}: ${seen}`,
      at: result.happenedAt,
      by: result.by,
      isOver: false,
    };
  });
}

function fermentNode(ferment: TracedFerment, marks: TraceMark[]): Unplaced {
  return {
    id: ferment.id,
    kind: 'ferment',
    label: ferment.gyle,
    detail: `${ferment.beer} in ${ferment.vessel}`,
    generation: ferment.generation,
    at: ferment.at,
    state: ferment.state,
    status: statusOf(marks),
    left: null,
    batches: [],
    marks,
  };
}

function caskNode(
  { id, at, batches }: TracedRack,
  ferment: TracedFerment | undefined,
  marks: TraceMark[],
): Unplaced {
  return {
    id,
    kind: 'casks',
    label: casksLabel(ferment?.gyle ?? '', batches),
    detail: batches.length === 0 ? 'No cask batch written down' : (ferment?.beer ?? ''),
    generation: ferment?.generation ?? null,
    at,
    state: batches.length === 0 ? 'racked' : 'in cask',
    status: statusOf(marks),
    left: null,
    batches,
    marks,
  };
}

export function casksLabel(gyle: string, batches: readonly string[]): string {
  const [only] = batches;
  if (only === undefined) return `Racked ${gyle}`;
  return batches.length === 1 ? only : `${batches.length} batches of ${gyle}`;
}

const attention = ({ why, at, by, released }: FamilyMark): TraceMark => ({
  what: 'look at it',
  text: why,
  at,
  by,
  isOver: released !== null,
});

const pitchedAllTheSame = ({ why, at, by }: Told & { why: string }): TraceMark => ({
  what: 'pitched all the same',
  text: why,
  at,
  by,
  isOver: false,
});

const statuses = {
  'on hold': 'held',
  grew: 'grew',
  'look at it': 'attention',
  'pitched all the same': 'attention',
} as const;

function statusOf(marks: readonly TraceMark[]): TraceNode['status'] {
  const standing = new Set(marks.filter(({ isOver }) => !isOver).map(({ what }) => what));
  for (const what of ['on hold', 'grew', 'look at it', 'pitched all the same'] as const)
    if (standing.has(what)) return statuses[what];
  return 'plain';
}
