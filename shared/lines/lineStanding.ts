import { SETTLED_GENERATIONS } from '#shared/science/lineDrift.ts';
import { gravestFirst, lineVerdicts } from '#shared/verdict.ts';
import { lineRules } from '#shared/verdictRules/lineRules.ts';
import { reasonsBy } from '#shared/verdictRules/rule.ts';
import type {
  LineMeasureDrift,
  LineMeasureKey,
  LinePoint,
  LineSheet,
  LineStanding,
  LineSummary,
} from '#shared/views/lines.ts';
import type { StrainView } from '#shared/views/recorded.ts';
import { type LineMeasure, lineMeasures } from './lineMeasures.ts';
import { type LineFerment, linePoint } from './linePoint.ts';
import { measureDrift, type Taken, takenIn } from './measureDrift.ts';
import { measureStanding } from './measureStanding.ts';

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
  const known = lines.map(knownOf);
  return known.map((line) => {
    const judge = (measure: LineMeasure) =>
      measureDrift(line.taken[measure.key], measure, settledOfOthers(line, known, measure.key))
        .found;
    return standing(line, lineMeasures.map(judge));
  });
}

/** One of the lines with all that its page shows; undefined when it is not among them. */
export function lineSheet(id: string, lines: readonly LineEvidence[]): LineSheet | undefined {
  const known = lines.map(knownOf);
  const line = known.find(({ evidence }) => evidence.id === id);
  if (line === undefined) return undefined;
  const measures = lineMeasures.map((measure) =>
    measureStanding(line.taken[measure.key], measure, settledOfOthers(line, known, measure.key)),
  );
  return { ...standing(line, measures), measures };
}

/** A line as a list shows it, without its ferments. */
export function lineSummary({ points: _, ...summary }: LineStanding): LineSummary {
  return summary;
}

type Known = {
  evidence: LineEvidence;
  points: LinePoint[];
  taken: Record<LineMeasureKey, Taken[]>;
};

/** The points by generation, and within one in the order they were pitched. */
function knownOf(evidence: LineEvidence): Known {
  const points = evidence.ferments
    .toSorted((a, b) => a.generation - b.generation || a.pitchedMs - b.pitchedMs)
    .map(linePoint);
  const taken = (key: LineMeasureKey) => takenIn(points, key);
  return {
    evidence,
    points,
    taken: {
      viabilityPercent: taken('viabilityPercent'),
      halfTimeHours: taken('halfTimeHours'),
      apparentAttenuationPercent: taken('apparentAttenuationPercent'),
      cropRatio: taken('cropRatio'),
      suspendedMillionPerMl: taken('suspendedMillionPerMl'),
      petitePercent: taken('petitePercent'),
    },
  };
}

const settledOfOthers = ({ evidence }: Known, known: readonly Known[], key: LineMeasureKey) =>
  known
    .filter((other) => isOtherOfStrain(other.evidence, evidence))
    .map(({ taken }) => taken[key].filter(isSettled).map(({ value }) => value));

const isOtherOfStrain = (other: LineEvidence, { id, strain }: LineEvidence) =>
  other.id !== id && other.strain.id === strain.id;

const isSettled = ({ generation }: Taken) =>
  generation >= SETTLED_GENERATIONS.from && generation <= SETTLED_GENERATIONS.to;

function standing({ evidence, points }: Known, measures: readonly LineMeasureDrift[]) {
  const { id, strain, aliveGeneration } = evidence;
  const facts = { id, strain, aliveGeneration, measures, latestPetites: latestPetites(points) };
  const reasons = gravestFirst(reasonsBy(lineRules, facts), lineVerdicts);
  return {
    id,
    code: evidence.code,
    strain,
    startedAt: new Date(evidence.startedMs).toISOString(),
    highestGeneration: evidence.highestGeneration,
    lotsInStore: evidence.lotsInStore,
    running: evidence.running,
    state: aliveGeneration === null ? 'ended' : (reasons[0]?.verdict ?? 'settling'),
    reasons,
    points,
  } satisfies LineStanding;
}

function latestPetites(points: readonly LinePoint[]) {
  const last = points.findLast(({ petiteRange }) => petiteRange !== null);
  return last === undefined || last.petiteRange === null
    ? null
    : { fermentId: last.fermentId, range: last.petiteRange };
}
