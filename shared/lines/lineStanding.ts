import { SETTLED_GENERATIONS } from '#shared/science/lineDrift.ts';
import { gravestFirst, lineVerdicts } from '#shared/verdict.ts';
import { lineRules } from '#shared/verdictRules/lineRules.ts';
import { reasonsBy } from '#shared/verdictRules/rule.ts';
import type {
  LineMeasureKey,
  LinePoint,
  LineStanding,
  LineSummary,
  StrainView,
} from '#shared/views.ts';
import { lineMeasures } from './lineMeasures.ts';
import { type LineFerment, linePoint } from './linePoint.ts';
import { measured, measureStanding } from './measureStanding.ts';

/** All that descends from one fresh culture, as the log holds it. */
export type LineEvidence = {
  id: string;
  code: string;
  strain: StrainView;
  startedMs: number;
  highestGeneration: number;
  /** The highest generation in store or fermenting; null when nothing of the line lives. */
  aliveGeneration: number | null;
  lotsInStore: number;
  running: number;
  ferments: readonly LineFerment[];
};

/** How lines are ageing; each learns from the others of its strain how much its measures vary. */
export function lineStandings(lines: readonly LineEvidence[]): LineStanding[] {
  const known = lines.map((line) => ({ line, points: pointsOf(line) }));
  return known.map(({ line, points }) => {
    const others = known.filter(
      (other) => other.line.id !== line.id && other.line.strain.id === line.strain.id,
    );
    return standing(
      line,
      points,
      others.map((other) => other.points),
    );
  });
}

const pointsOf = ({ ferments }: LineEvidence) =>
  ferments.map(linePoint).sort((a, b) => Date.parse(a.pitchedAt) - Date.parse(b.pitchedAt));

function standing(
  line: LineEvidence,
  points: LinePoint[],
  others: readonly (readonly LinePoint[])[],
): LineStanding {
  const { id, code, strain, highestGeneration, lotsInStore, running, aliveGeneration } = line;
  const measures = lineMeasures.map((measure) =>
    measureStanding(
      points,
      measure,
      others.map((other) => settledValues(other, measure.key)),
    ),
  );
  const facts = { id, strain, aliveGeneration, measures, latestPetites: latestPetites(points) };
  const reasons = gravestFirst(reasonsBy(lineRules, facts), lineVerdicts);
  return {
    id,
    code,
    strain,
    startedAt: new Date(line.startedMs).toISOString(),
    highestGeneration,
    lotsInStore,
    running,
    state: aliveGeneration === null ? 'ended' : (reasons[0]?.verdict ?? 'settling'),
    reasons,
    points,
    measures,
  };
}

function latestPetites(points: readonly LinePoint[]) {
  const last = points.findLast(({ petiteRange }) => petiteRange !== null);
  return last === undefined || last.petiteRange === null
    ? null
    : { fermentId: last.fermentId, range: last.petiteRange };
}

const settledValues = (points: readonly LinePoint[], key: LineMeasureKey) =>
  measured(points, key)
    .filter(
      ({ generation }) =>
        generation >= SETTLED_GENERATIONS.from && generation <= SETTLED_GENERATIONS.to,
    )
    .map(({ value }) => value);

/** A line as a list shows it, without what its charts are drawn from. */
export function lineSummary({ points: _, measures: __, ...summary }: LineStanding): LineSummary {
  return summary;
}
