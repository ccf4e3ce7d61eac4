import { type HoldEvidence, heldBy, holdingsOf } from '#shared/lots/holding.ts';
import type { SiteKey } from '#shared/sites/site.ts';
import { grouped } from '../grouped.ts';
import type { Kin } from './family.ts';
import type { TracedFerment, TracedLot, TracedRack, TraceEvidence } from './traceEvidence.ts';
import {
  attention,
  doneAllTheSame,
  plateMarks,
  statusOf,
  type TraceMark,
  type TraceStatus,
} from './traceMarks.ts';

export type TraceNode = {
  id: string;
  kind: 'lot' | 'ferment' | 'casks';
  label: string;
  detail: string;
  siteId: SiteKey;
  generation: number | null;
  at: string;
  state: 'in store' | 'used up' | TracedFerment['state'] | 'in cask';
  /** The gravest mark that still stands. */
  status: TraceStatus;
  left: { value: number; unit: 'L' | 'kg' } | null;
  batches: readonly string[];
  side: Kin['side'];
  steps: number;
  /** The neighbour one step nearer to the record traced. */
  through: string | null;
  alsoFrom: readonly string[];
  marks: readonly TraceMark[];
};

/** A record before it is told where in the family it stands. */
export type UnplacedNode = Omit<TraceNode, 'side' | 'steps' | 'through' | 'alsoFrom'>;

export function nodesOf(evidence: TraceEvidence): UnplacedNode[] {
  const overrides = grouped(evidence.overrides, ({ on }) => on);
  const allTheSame = (id: string) => (overrides.get(id) ?? []).map(doneAllTheSame);
  const ferments = new Map(evidence.ferments.map((ferment) => [ferment.id, ferment]));
  const marked = (fermentId: string) => [
    ...(evidence.marks.get(fermentId) ?? []).map(attention),
    ...allTheSame(fermentId),
  ];
  return [
    ...evidence.lots.map((lot) => lotNode(lot, evidence.holding(lot.id), allTheSame(lot.id))),
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
} as const;

function lotNode(lot: TracedLot, evidence: HoldEvidence, overrides: TraceMark[]): UnplacedNode {
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
    ...plateMarks(evidence),
    ...overrides,
  ];
  return {
    id: lot.id,
    kind: 'lot',
    label: lot.code,
    detail:
      lot.origin === 'transfer'
        ? `${lot.strain}, sent from another site`
        : `${origins[lot.origin]} of ${lot.strain}`,
    siteId: lot.siteId,
    generation: lot.generation,
    at: lot.at,
    state: isInStore ? 'in store' : 'used up',
    status: statusOf(marks),
    left: isInStore ? { value: lot.left, unit: lot.unit } : null,
    batches: [],
    marks,
  };
}

function fermentNode(ferment: TracedFerment, marks: TraceMark[]): UnplacedNode {
  return {
    id: ferment.id,
    kind: 'ferment',
    label: ferment.gyle,
    detail: `${ferment.beer} in ${ferment.vessel}`,
    siteId: ferment.siteId,
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
): UnplacedNode {
  return {
    id,
    kind: 'casks',
    label: casksLabel(ferment?.gyle ?? '', batches),
    detail: batches.length === 0 ? 'No cask batch written down' : (ferment?.beer ?? ''),
    siteId: ferment?.siteId ?? null,
    generation: ferment?.generation ?? null,
    at,
    state: batches.length === 0 ? 'racked' : 'in cask',
    status: statusOf(marks),
    left: null,
    batches,
    marks,
  };
}

/** What the casks of one racking are called: their only batch, or how many there are. */
export function casksLabel(gyle: string, batches: readonly string[]): string {
  const [only] = batches;
  if (only === undefined) return `Racked ${gyle}`;
  return batches.length === 1 ? only : `${batches.length} batches of ${gyle}`;
}
