import type { EntryOf } from '#shared/entries/entry.ts';
import { plateFigure, plateWords } from '#shared/micro/plateFigure.ts';
import type { Ranged } from '#shared/views/recorded.ts';
import type { PendingCheckPolicy } from '#shared/words.ts';

type Made = { id: string; happenedAt: string; by: string };

export type HoldMade = Made & {
  why: string;
  /** When the hold of a whole family was lifted. */
  liftedAt?: string | null | undefined;
};
export type CheckMade = Made &
  Pick<EntryOf<'microCheck'>, 'medium' | 'looksFor' | 'dueAt' | 'purpose' | 'cellsPlated'>;
export type ResultMade = Made &
  Pick<EntryOf<'microResult'>, 'checkId' | 'outcome' | 'colonies' | 'ofColonies'>;

export type HoldEvidence = {
  holds: readonly HoldMade[];
  releases: readonly { happenedAt: string }[];
  checks: readonly CheckMade[];
  results: readonly ResultMade[];
};

export type Holding = {
  why: string;
  since: string;
  by: string;
  recordId: string;
  cause: 'held by hand' | 'result pending' | 'found' | 'discard';
  /** Wild yeast in a million cells plated with its 95 % limits, where it was counted. */
  wildPerMillion: Ranged | null;
  /** False where the house lets yeast be pitched while a routine plate is not yet read. */
  holds: boolean;
};

/** What stands when the house has not said otherwise: a routine plate takes longer than yeast keeps. */
export const presetPendingCheck: PendingCheckPolicy = 'warn';

type Policy = {
  pendingRoutineCheck?: PendingCheckPolicy | undefined;
  /** Nothing that came later counts. */
  atMs?: number;
};

const order = ['discard', 'found', 'held by hand', 'result pending'];

/**
 * Why a lot may not be pitched at a moment: put on hold by someone, a plate not yet read, or a plate
 * that found something. A release clears whatever came before it. The gravest cause comes first.
 */
export function holdingsOf(evidence: HoldEvidence, policy: Policy): Holding[] {
  const atMs = policy.atMs ?? Number.POSITIVE_INFINITY;
  const hasCome = ({ happenedAt }: { happenedAt: string }) => Date.parse(happenedAt) <= atMs;
  const released = Math.max(
    0,
    ...evidence.releases.filter(hasCome).map(({ happenedAt }) => Date.parse(happenedAt)),
  );
  const stands = ({ liftedAt = null }: HoldMade) =>
    liftedAt === null || Date.parse(liftedAt) > atMs;
  const outcomes = new Map(
    evidence.results.filter(hasCome).map((result) => [result.checkId, result]),
  );
  return [
    ...evidence.holds.filter(hasCome).filter(stands).map(byHand),
    ...evidence.checks
      .filter(hasCome)
      .flatMap((check) => byPlate(check, outcomes.get(check.id), policy)),
  ]
    .filter(({ since }) => Date.parse(since) > released)
    .sort((a, b) => order.indexOf(a.cause) - order.indexOf(b.cause));
}

/** Whether anything keeps the lot from being pitched, and the gravest of it. */
export const heldBy = (holdings: readonly Holding[]): Holding | undefined =>
  holdings.find(({ holds }) => holds);

function byHand(hold: HoldMade): Holding {
  return { ...from(hold), why: hold.why, cause: 'held by hand', wildPerMillion: null, holds: true };
}

function byPlate(check: CheckMade, result: ResultMade | undefined, policy: Policy): Holding[] {
  if (result === undefined) {
    const { pendingRoutineCheck = presetPendingCheck } = policy;
    return [
      {
        ...from(check),
        why: `${check.medium}: not yet read`,
        cause: 'result pending',
        wildPerMillion: null,
        holds: check.purpose === 'suspicion' || pendingRoutineCheck === 'hold',
      },
    ];
  }
  if (result.outcome === 'clear') return [];
  const counts = { ...result, cellsPlated: check.cellsPlated };
  const said = result.outcome === 'discard' ? 'over the limit, discard' : 'something grew';
  const seen = plateWords(counts);
  return [
    {
      ...from(result),
      why: `${check.medium}: ${said}${seen === '' ? '' : ` (${seen})`}`,
      cause: result.outcome,
      wildPerMillion: looksForWildYeast(check) ? (plateFigure(counts)?.perMillion ?? null) : null,
      holds: true,
    },
  ];
}

const looksForWildYeast = ({ looksFor }: CheckMade) => /wild/i.test(looksFor);

const from = ({ id, happenedAt, by }: Made) => ({ since: happenedAt, by, recordId: id });
