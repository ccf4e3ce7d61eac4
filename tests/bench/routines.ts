import jstat from 'jstat';
import { linearRegression, probit } from 'simple-statistics';
import { betaQuantile, studentTQuantile } from '#shared/science/betaFunctions.ts';
import { chiSquareQuantile } from '#shared/science/gammaFunctions.ts';
import { linearFit } from '#shared/science/linearFit.ts';
import { normalQuantile } from '#shared/science/normal.ts';
import norris from '../reference/nistNorris.json' with { type: 'json' };
import truth from '../reference/quantileTruth.json' with { type: 'json' };
import { relativeError } from '../support/relativeError.ts';
import { median, ratio } from './timing.ts';

const { jStat } = jstat;

/** The same question put to both, with an answer known from elsewhere. */
type Case = { ours: () => number; theirs: () => number; truth: number };
type Comparison = { routine: string; library: string; cases: Case[] };

const rounds = 9;
/** Long enough for a clock of a tenth of a millisecond [ms]. */
const leastMs = 60;

/** Prints our routines beside those of general libraries doing the same: time and accuracy. */
export function benchRoutines(): void {
  console.log(
    '\nRoutines against general libraries: same questions, turn and turn about, median of 9',
  );
  console.table(Object.fromEntries(comparisons().map((one) => [one.routine, compared(one)])));
  console.log(
    'Worst relative error against 40-digit quantiles (mpmath) and the certified fit (NIST Norris).',
  );
}

function comparisons(): Comparison[] {
  const dofRows = truth.chisq.map(([df = NaN, p = NaN, quantile = NaN]) => ({
    ours: () => chiSquareQuantile(p, df),
    theirs: () => jStat.chisquare.inv(p, df),
    truth: quantile,
  }));
  const betaRows = truth.beta.map(([a = NaN, b = NaN, p = NaN, quantile = NaN]) => ({
    ours: () => betaQuantile(p, a, b),
    theirs: () => jStat.beta.inv(p, a, b),
    truth: quantile,
  }));
  const tRows = truth.t.map(([df = NaN, p = NaN, quantile = NaN]) => ({
    ours: () => studentTQuantile(p, df),
    theirs: () => jStat.studentt.inv(p, df),
    truth: quantile,
  }));
  const normalRows = (theirs: (p: number) => number) =>
    truth.norm.map(([p = NaN, quantile = NaN]) => ({
      ours: () => normalQuantile(p),
      theirs: () => theirs(p),
      truth: quantile,
    }));
  return [
    { routine: 'chi-square quantile (limits of a count)', library: 'jstat', cases: dofRows },
    { routine: 'beta quantile (limits of a share)', library: 'jstat', cases: betaRows },
    { routine: 't quantile', library: 'jstat', cases: tRows },
    {
      routine: 'normal quantile',
      library: 'jstat',
      cases: normalRows((p) => jStat.normal.inv(p, 0, 1)),
    },
    { routine: 'normal quantile, table', library: 'simple-statistics', cases: normalRows(probit) },
    { routine: 'straight line', library: 'simple-statistics', cases: [straightLine()] },
  ];
}

/** Ours gives standard errors and residuals besides, which theirs does not. */
function straightLine(): Case {
  const points = norris.data.map(([y = NaN, x = NaN]) => ({ x, y }));
  const pairs = points.map(({ x, y }) => [x, y]);
  return {
    ours: () => linearFit(points).slope,
    theirs: () => linearRegression(pairs).m,
    truth: norris.certified.slope,
  };
}

function compared({ library, cases }: Comparison) {
  const asked = cases.filter((one) => one.truth !== 0);
  const worst = (answers: (one: Case) => () => number) =>
    Math.max(...asked.map((one) => wrongness(answers(one)(), one.truth)));
  const runAll = (answers: (one: Case) => () => number) => () => {
    for (const one of asked) answers(one)();
  };
  const [ours, theirs] = microseconds(
    runAll((one) => one.ours),
    runAll((one) => one.theirs),
    asked.length,
  );
  return {
    library,
    'ours µs': ours.toFixed(2),
    'theirs µs': theirs.toFixed(2),
    'ours : theirs': ratio(ours / theirs),
    'ours, worst error': worst((one) => one.ours).toExponential(1),
    'theirs, worst error': worst((one) => one.theirs).toExponential(1),
  };
}

/** No answer at all is as wrong as can be. */
const wrongness = (answer: number, known: number) =>
  Number.isFinite(answer) ? relativeError(answer, known) : Number.POSITIVE_INFINITY;

/** Median time of one answer [µs], of two works in turn so that both meet the same machine. */
function microseconds(first: () => void, second: () => void, answers: number): [number, number] {
  const [repeatFirst, repeatSecond] = [repeatsOf(first), repeatsOf(second)];
  const times: [number[], number[]] = [[], []];
  for (let round = 0; round < rounds; round++) {
    times[0].push(timed(first, repeatFirst));
    times[1].push(timed(second, repeatSecond));
  }
  return [
    (1000 * median(times[0])) / (repeatFirst * answers),
    (1000 * median(times[1])) / (repeatSecond * answers),
  ];
}

function repeatsOf(work: () => void): number {
  let repeats = 1;
  while (timed(work, repeats) < leastMs) repeats *= 2;
  return repeats;
}

function timed(work: () => void, repeats: number): number {
  const start = performance.now();
  for (let repeat = 0; repeat < repeats; repeat++) work();
  return performance.now() - start;
}
