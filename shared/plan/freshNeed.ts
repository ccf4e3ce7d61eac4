import { fromFresh } from '#shared/generationWords.ts';
import { dayAfter, daysBetween, localDay, momentOn } from '#shared/localDay.ts';
import { propagationPlan } from '#shared/science/propagation.ts';
import type { LineStanding } from '#shared/views/lines.ts';
import type { Recorded, StrainView } from '#shared/views/recorded.ts';
import { hourMs } from '../durations.ts';
import { type Demand, PITCHING_HOUR } from './demand.ts';
import type { PastBrews } from './failureChance.ts';
import type { DatedStep, FreshNeed } from './freshView.ts';
import type { PlanShortage } from './planView.ts';
import { replacementChoice } from './replacementChoice.ts';

type Facts = {
  nowMs: number;
  timeZone: string;
  fromDay: string;
  strains: readonly StrainView[];
  lines: readonly LineStanding[];
  policies: readonly Recorded<'freshCulturePolicy'>[];
  pastBrews: readonly PastBrews[];
  demands: readonly Demand[];
  shortages: readonly PlanShortage[];
  /** The days for which fresh culture is under way, by strain. */
  expected: ReadonlyMap<string, string>;
};

type Limit = NonNullable<FreshNeed['need']>['limits'][number];

/** For each strain: when fresh culture is wanted, when to start, and what it costs against waiting. */
export function freshNeeds(facts: Facts): FreshNeed[] {
  return facts.strains.map((strain) => {
    const policy = facts.policies.find(({ strainId }) => strainId === strain.id) ?? null;
    const line = lineInUse(facts.lines, strain);
    const limits = [
      ...shortageLimit(facts, strain),
      ...(line === null ? [] : lineLimits(line, strain, facts)),
    ].sort((a, b) => (a.onDay < b.onDay ? -1 : 1));
    const comesFrom = policy?.comesFrom ?? 'slope';
    const expectedOn = facts.expected.get(strain.id) ?? null;
    const asked = { ...facts, strain, policy, comesFrom, expectedOn };
    return {
      strain,
      policy,
      comesFrom,
      need: limits.length === 0 ? null : needOf(limits, asked),
      line: line && {
        id: line.id,
        code: line.code,
        generation: line.highestGeneration,
        daysPerGeneration: daysPerGeneration(line),
      },
      cost: replacementChoice({
        policy,
        past: facts.pastBrews.filter(({ strainId }) => strainId === strain.id),
        maxGenerations: strain.maxGenerations,
        nextGeneration: line === null ? 0 : Math.min(line.highestGeneration, strain.maxGenerations),
      }),
    };
  });
}

/** The line of the strain that still lives; the newest of several. */
function lineInUse(lines: readonly LineStanding[], strain: StrainView): LineStanding | null {
  const alive = lines.filter((line) => line.strain.id === strain.id && line.state !== 'ended');
  return alive.toSorted((a, b) => (a.startedAt < b.startedAt ? 1 : -1))[0] ?? null;
}

function shortageLimit({ shortages }: Facts, strain: StrainView): Limit[] {
  const first = shortages.find(({ strainId }) => strainId === strain.id);
  if (first === undefined) return [];
  const text = `There is not enough yeast for ${first.beer}.`;
  return [{ driver: 'a shortage', onDay: first.onDay, text }];
}

function lineLimits(line: LineStanding, strain: StrainView, facts: Facts): Limit[] {
  const { fromDay, timeZone } = facts;
  const limits: Limit[] = [];
  if (line.state === 'due')
    limits.push({
      driver: 'the line is due',
      onDay: fromDay,
      text: `Line ${line.code}: ${line.reasons[0]?.text ?? 'it is due to be replaced'}.`,
    });
  const pace = daysPerGeneration(line);
  const last = line.points.at(-1);
  if (pace === null || last === undefined) return limits;
  const left = strain.maxGenerations + 1 - last.generation;
  const lastDay = localDay(timeZone)(Date.parse(last.pitchedAt));
  const daysLeft = Math.floor(left * pace) - daysBetween(lastDay, fromDay);
  limits.push({
    driver: 'the generation limit',
    onDay: dayAfter(fromDay, Math.max(0, daysLeft)),
    text: `Line ${line.code} was last pitched ${fromFresh(last.generation)}; at ${pace.toFixed(1)} days a generation it passes the limit of ${strain.maxGenerations} by then.`,
  });
  return limits;
}

/** Days from one generation of a line to the next, by its own pitches; null before the third. */
function daysPerGeneration({ points }: LineStanding): number | null {
  const first = points[0];
  const last = points.at(-1);
  if (first === undefined || last === undefined) return null;
  const generations = last.generation - first.generation;
  if (generations < 2) return null;
  const days = (Date.parse(last.pitchedAt) - Date.parse(first.pitchedAt)) / (24 * hourMs);
  return days / generations;
}

type Asked = Facts & {
  strain: StrainView;
  policy: Recorded<'freshCulturePolicy'> | null;
  comesFrom: FreshNeed['comesFrom'];
  expectedOn: string | null;
};

function needOf(limits: Limit[], asked: Asked): FreshNeed['need'] {
  const [first] = limits;
  if (first === undefined) return null;
  const { demands, strain, fromDay, expectedOn } = asked;
  const brew = brewFor(demands, strain, first);
  const wanted = startFor(expectedOn ?? first.onDay, brew, asked);
  const isPast = expectedOn === null && wanted.startBy < fromDay;
  const earliestDay = isPast ? dayAfter(fromDay, wanted.leadDays) : (expectedOn ?? first.onDay);
  const doable = isPast ? startFor(earliestDay, brew, asked) : wanted;
  return {
    because: first.driver,
    onDay: first.onDay,
    brewId: brew?.id ?? null,
    beer: brew?.beer ?? null,
    neededCells: brew?.neededCells ?? null,
    limits,
    startBy: wanted.startBy,
    leadDays: wanted.leadDays,
    isLate: earliestDay > first.onDay,
    earliestDay,
    expectedOn,
    steps: doable.steps,
    propagationL: doable.volumeL,
  };
}

/** When to start for yeast on a day: back through the steps from a slope, else by the lead time. */
function startFor(readyDay: string, brew: Demand | undefined, asked: Asked) {
  const ladder =
    asked.comesFrom === 'slope' && brew !== undefined
      ? propagation(brew.neededCells, readyDay, asked)
      : null;
  const startBy = ladder?.startDay ?? dayAfter(readyDay, -Math.ceil(asked.strain.leadTimeDays));
  return {
    startBy,
    leadDays: daysBetween(startBy, readyDay),
    steps: ladder?.steps ?? [],
    volumeL: ladder?.volumeL ?? null,
  };
}

/** The first brew from the day on that the fresh culture would go into; else the largest planned. */
function brewFor(demands: readonly Demand[], strain: StrainView, { onDay }: Limit) {
  const ours = demands.filter((demand) => demand.strain.id === strain.id);
  return (
    ours.find((demand) => demand.onDay >= onDay) ??
    ours.toSorted((a, b) => b.neededCells - a.neededCells)[0]
  );
}

function propagation(neededCells: number, onDay: string, { policy, timeZone }: Asked) {
  const { firstVolumeL, greatestStepRatio, daysPerStep } = policy ?? {};
  const { stillCellsPerMl, aeratedCellsPerMl } = policy ?? {};
  const found = propagationPlan({
    neededCells,
    readyAtHours: momentOn(onDay, PITCHING_HOUR, timeZone) / hourMs,
    ...(firstVolumeL === undefined ? {} : { firstVolumeL }),
    ...(greatestStepRatio === undefined ? {} : { greatestStepRatio }),
    ...(daysPerStep === undefined ? {} : { hoursPerStep: 24 * daysPerStep }),
    ...(stillCellsPerMl === undefined ? {} : { stillCellsPerMl }),
    ...(aeratedCellsPerMl === undefined ? {} : { aeratedCellsPerMl }),
  });
  const momentAt = (hours: number) => new Date(hours * hourMs).toISOString();
  return {
    volumeL: found.neededVolumeL,
    startDay: localDay(timeZone)(found.startHours * hourMs),
    steps: found.steps.map(
      ({ startHours, endHours, ...step }): DatedStep => ({
        ...step,
        startAt: momentAt(startHours),
        endAt: momentAt(endHours),
      }),
    ),
  };
}
