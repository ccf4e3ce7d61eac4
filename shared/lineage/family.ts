import type { StepKind, TraceOrigin } from './traceEvidence.ts';

/**
 * One step of the walk away from the record traced: what it came through, and what it reached. In a
 * family each is known by its key: its place in the journal.
 */
export type WalkedStep = {
  kind: StepKind;
  via: number;
  key: number;
  /** Cask batches of a racking; 0 of all else. */
  batches: number;
};

/** A record of a family: what it is, and how it is reached from the one traced. */
export type Kin = {
  key: number;
  kind: 'lot' | 'ferment' | 'casks';
  side: 'start' | 'upstream' | 'downstream';
  steps: number;
  /** The neighbour one step nearer to the record traced. */
  through: number | null;
  batches: number;
};

export type Walked = { up: readonly WalkedStep[]; down: readonly WalkedStep[] };

export type Family = Walked & {
  start: Kin;
  byKey: ReadonlyMap<number, Kin>;
  /** Each side, nearest first, without the record traced. */
  upstream: readonly Kin[];
  downstream: readonly Kin[];
};

/** The family of a record from its two walks, each nearest first. */
export function familyOf(
  { key, kind: started }: { key: number; kind: TraceOrigin['kind'] },
  { up, down }: Walked,
): Family {
  const start: Kin = {
    key,
    kind: started === 'plate' ? 'lot' : started,
    side: 'start',
    steps: 0,
    through: null,
    batches: 0,
  };
  const byKey = new Map([[key, start]]);
  const reached = (side: Kin['side'], walk: readonly WalkedStep[], leadsTo: LeadsTo) => {
    const kin: Kin[] = [];
    let nearer = start;
    for (const { kind, via, key, batches } of walk) {
      if (byKey.has(key)) continue;
      // Nearest first: the first step to a record is of a shortest way, and `via` was reached before.
      if (nearer.key !== via) nearer = byKey.get(via) ?? start;
      const steps = nearer.steps + 1;
      const one = { key, kind: leadsTo[kind], side, steps, through: via, batches };
      byKey.set(key, one);
      kin.push(one);
    }
    return kin;
  };
  const upstream = reached('upstream', up, above);
  const downstream = reached('downstream', down, below);
  return { up, down, start, byKey, upstream, downstream };
}

type LeadsTo = Record<StepKind, Kin['kind']>;
const above: LeadsTo = {
  ...{ pitch: 'lot', crop: 'ferment', blend: 'lot', transfer: 'lot', rack: 'ferment' },
};
const below: LeadsTo = {
  ...{ pitch: 'ferment', crop: 'lot', blend: 'lot', transfer: 'lot', rack: 'casks' },
};

/** Which part of a family is told: of each side the nearest, after so many, at most so many. */
export type Part = { after: number; limit: number };
export const wholeFamily: Part = { after: 0, limit: Number.POSITIVE_INFINITY };

/**
 * The keys of the records told: the one traced, the part of each side, what must always be told,
 * and the neighbour each of these is reached through.
 */
export function toldOf(family: Family, { after, limit }: Part, always: Iterable<number>) {
  const { start, byKey, upstream, downstream } = family;
  const told = new Set([start.key]);
  const tell = ({ key, through }: Kin) => {
    told.add(key);
    if (through !== null) told.add(through);
  };
  // Casks are called by the gyle they were racked from.
  if (start.kind === 'casks') upstream.slice(0, 1).forEach(tell);
  for (const side of [upstream, downstream])
    for (const kin of side.slice(after, after + limit)) tell(kin);
  for (const key of always) {
    const kin = byKey.get(key);
    if (kin !== undefined) tell(kin);
  }
  return told;
}

/** Where the next part begins, null after the last one. */
export function nextAfter({ upstream, downstream }: Family, { after, limit }: Part): number | null {
  const longest = Math.max(upstream.length, downstream.length);
  return after + limit < longest ? after + limit : null;
}

/** The records above from which nothing further up is known. */
export const sourcesOf = ({ start, up, upstream }: Family): number[] => {
  const hasParent = new Set(up.map(({ via }) => via));
  return [start, ...upstream].flatMap(({ key }) => (hasParent.has(key) ? [] : [key]));
};
