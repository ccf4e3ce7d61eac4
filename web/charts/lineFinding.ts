import type { LineMeasure } from '#shared/lines/lineMeasures.ts';
import type { LineMeasureStanding } from '#shared/views/lines.ts';
import { isOut } from './generationChart.ts';

type Finding = {
  standing: LineMeasureStanding;
  measure: LineMeasure;
  /** The house limit of the measure, where the strain has one. */
  limit: number | null;
  /** What the brewery calls its fresh culture: 0 or 1. */
  firstGeneration: number;
};

/** What a chart by generation shows, in words, for those who cannot see it. */
export function lineFinding(finding: Finding): string {
  const { points } = finding.standing;
  const [first, last] = [points[0], points.at(-1)];
  if (first === undefined || last === undefined) return 'Not measured yet in this line.';
  const many = points.length === 1 ? '1 ferment' : `${points.length} ferments`;
  const gen = (generation: number) => generation + finding.firstGeneration;
  const span =
    first.generation === last.generation
      ? `gen ${gen(first.generation)} only`
      : `gen ${gen(first.generation)} to ${gen(last.generation)}`;
  return [
    `${many}, ${span}, the last at ${figure(last.value, finding.measure)}.`,
    judged(finding),
    againstLimits(finding),
    againstHouse(finding),
  ]
    .filter((sentence) => sentence !== '')
    .join(' ');
}

const figure = (value: number, { decimals, unit }: LineMeasure) =>
  `${value.toFixed(decimals)} ${unit}`;

function judged({ standing, firstGeneration }: Finding): string {
  const { state, since, direction, isDecline, evidence } = standing;
  if (state === 'settling')
    return 'Still settling: nothing is judged before the settled generations are done.';
  if (state === 'too few') return 'Too few settled values to judge by.';
  if (state === 'steady')
    return 'Steady: it varies no more than it did in the settled generations.';
  const from = since === null ? '' : ` since gen ${since + firstGeneration}`;
  return `Drifts ${direction ?? ''}${from}${isDecline ? ', for the worse' : ''}: ${evidence}.`;
}

function againstLimits({ standing, measure }: Finding): string {
  const { limits, points } = standing;
  if (limits === null) return '';
  const out = points.filter((point) => point.role !== 'fresh' && isOut(point, standing)).length;
  const { lower, upper, isAtFloor, isAtCeiling } = limits;
  const { unit } = measure;
  const range = `${isAtFloor ? `${lower} ${unit}` : figure(lower, measure)} to ${isAtCeiling ? `${upper} ${unit}` : figure(upper, measure)}`;
  const many = out === 0 ? 'None is' : out === 1 ? '1 is' : `${out} are`;
  const bound = boundWords(limits, measure);
  return `${many} outside the limits ${range} of ${limits.values} settled values, or at the end of a pattern.${bound === '' ? '' : ` ${bound}`}`;
}

/** Where three sigma would reach further than the measure can go; empty where they do not. */
export function boundWords(
  { lower, upper, isAtFloor, isAtCeiling }: NonNullable<LineMeasureStanding['limits']>,
  { unit }: LineMeasure,
): string {
  return [
    ...(isAtFloor ? [`It cannot be below ${lower} ${unit}.`] : []),
    ...(isAtCeiling ? [`It cannot be above ${upper} ${unit}.`] : []),
  ].join(' ');
}

function againstHouse({ standing, measure, limit }: Finding): string {
  if (limit === null || measure.worse === null) return '';
  const isBeyond = (value: number) => (measure.worse === 'lower' ? value < limit : value > limit);
  const beyond = standing.points.filter(({ value }) => isBeyond(value)).length;
  const side = measure.worse === 'lower' ? 'under' : 'over';
  const many = beyond === 0 ? 'None is' : `${beyond} of ${standing.points.length}`;
  return `${many} ${side} the house limit of ${figure(limit, measure)}.`;
}
