import type { HoldEvidence } from '#shared/lots/holding.ts';
import {
  type Override,
  type OverrideWhat,
  overrideReason,
  overrideWords,
} from '#shared/lots/overrides.ts';
import { plateWords } from '#shared/micro/plateFigure.ts';
import type { FamilyMark, Told } from './traceEvidence.ts';

export type TraceMark = Told & {
  what:
    | 'on hold'
    | 'grew'
    | 'not read'
    | 'clear'
    | 'look at it'
    | (typeof overrideWords)[OverrideWhat];
  text: string;
  /** Lifted since, or of no more moment. */
  isOver: boolean;
};

export type TraceStatus = 'plain' | 'held' | 'grew' | 'attention';

/** What the plates of a lot showed, each one a mark. */
export function plateMarks({ checks, results }: HoldEvidence): TraceMark[] {
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

export const attention = ({ why, at, by, released }: FamilyMark): TraceMark => ({
  what: 'look at it',
  text: why,
  at,
  by,
  isOver: released !== null,
});

export const doneAllTheSame = (override: Override): TraceMark => ({
  what: overrideWords[override.what],
  text: overrideReason(override),
  at: override.at,
  by: override.by,
  isOver: false,
});

/** From the gravest down. */
const statuses: readonly (readonly [TraceMark['what'], TraceStatus])[] = [
  ['on hold', 'held'],
  ['grew', 'grew'],
  ['look at it', 'attention'],
  ...Object.values(overrideWords).map((what) => [what, 'attention'] as const),
];

/** The gravest of the marks that still stand. */
export function statusOf(marks: readonly TraceMark[]): TraceStatus {
  const standing = new Set(marks.filter(({ isOver }) => !isOver).map(({ what }) => what));
  return statuses.find(([what]) => standing.has(what))?.[1] ?? 'plain';
}
