import type { LinePoint } from '#shared/views.ts';
import {
  isBeyond,
  type LineMeasure,
  type MeasuredPoint,
  measuredPoints,
  middleValue,
} from './lineMeasures.ts';

type Finding = {
  points: readonly LinePoint[];
  measure: LineMeasure;
  limit: number | null;
  /** What the brewery calls its fresh culture: 0 or 1. */
  firstGeneration: number;
};

const figure = (value: number, { decimals, unit }: LineMeasure) =>
  `${value.toFixed(decimals)} ${unit}`;

function againstEarlier(known: readonly MeasuredPoint[], finding: Finding): string {
  const { measure, firstGeneration } = finding;
  const last = known.at(-1)?.generation ?? 0;
  const valuesOf = (latest: boolean) =>
    known.filter((point) => (point.generation === last) === latest).map((point) => point.value);
  const now = middleValue(valuesOf(true));
  const before = middleValue(valuesOf(false));
  if (now === undefined || before === undefined) return '';
  const named = `gen ${last + firstGeneration} at ${figure(now, measure)}`;
  const difference = Math.abs(now - before).toFixed(measure.decimals);
  if (Number(difference) === 0) return `${named}, the middle of the earlier ones.`;
  const side = now > before ? 'above' : 'below';
  return `${named}, ${difference} ${measure.unit} ${side} the middle of the earlier ones (${figure(before, measure)}).`;
}

function againstLimit(known: readonly MeasuredPoint[], { measure, limit }: Finding): string {
  if (limit === null) return '';
  const beyond = known.filter((point) => isBeyond(point.value, measure, limit)).length;
  const named = `the house limit of ${figure(limit, measure)}`;
  const side = measure.worse === 'lower' ? 'under' : 'over';
  return beyond === 0
    ? ` None is ${side} ${named}.`
    : ` ${beyond} of ${known.length} ${side} ${named}.`;
}

/** What a chart by generation shows, in words, for those who cannot see it. */
export function lineFinding(finding: Finding): string {
  const { measure, points, firstGeneration } = finding;
  const known = measuredPoints(points, measure);
  const first = known[0];
  const last = known.at(-1);
  if (first === undefined || last === undefined) return 'Not measured yet in this line.';
  const many = known.length === 1 ? '1 ferment' : `${known.length} ferments`;
  if (first.generation === last.generation) {
    const middle = middleValue(known.map((point) => point.value)) ?? first.value;
    const only = `${many} of gen ${first.generation + firstGeneration} only, at ${figure(middle, measure)}.`;
    return only + againstLimit(known, finding);
  }
  const span = `${many}, gen ${first.generation + firstGeneration} to ${last.generation + firstGeneration}: `;
  return span + againstEarlier(known, finding) + againstLimit(known, finding);
}
