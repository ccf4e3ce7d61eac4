import { fromFresh } from '#shared/generationWords.ts';
import { lineMeasure } from '#shared/lines/lineMeasures.ts';
import { SETTLED_GENERATIONS } from '#shared/science/lineDrift.ts';
import { DRIFT_EWMA } from '#shared/science/selfStartingEwma.ts';
import { shareRangeWords, shareWords } from '#shared/shareWords.ts';
import type { LineVerdictWord } from '#shared/verdict.ts';
import type { LineMeasureDrift } from '#shared/views/lines.ts';
import type { Ranged, StrainView } from '#shared/views/recorded.ts';
import { generalLimits } from './limits.ts';
import { type Found, housePolicy, type Rule } from './rule.ts';

type LineFacts = {
  id: string;
  strain: StrainView;
  /** The highest generation alive; null when the line is over. */
  aliveGeneration: number | null;
  measures: readonly LineMeasureDrift[];
  /** Of the last lot in which petites were counted. */
  latestPetites: { fermentId: string; range: Ranged } | null;
};
type LineRule = Rule<LineFacts, LineVerdictWord>;

const nothing: readonly Found[] = [];
const nameOf = ({ key }: LineMeasureDrift) => lineMeasure(key).name;
const sourceOf = ({ id }: LineFacts) => ({ recordId: id, href: `/yeast/${id}` });

const declining = ({ measures }: LineFacts) => measures.filter(({ isDecline }) => isDecline);
const changed = ({ measures }: LineFacts) =>
  measures.filter(({ state, isDecline }) => state === 'drifting' && !isDecline);

/** The measure with its last value, and the ferment that value was taken in. */
function drifted(measure: LineMeasureDrift): Found {
  const { unit, decimals } = lineMeasure(measure.key);
  const { last } = measure;
  const centre = measure.limits?.centre;
  const figure =
    last === null
      ? measure.evidence
      : `last ${last.value.toFixed(decimals)} ${unit}${
          centre === undefined ? '' : `, settled ${centre.toFixed(decimals)} ${unit}`
        }; ${measure.evidence}`;
  return {
    text: `${nameOf(measure)} drifts ${measure.direction ?? ''}${measure.since === null ? '' : ` since ${fromFresh(measure.since)}`}`,
    figure,
    recordId: last?.fermentId ?? null,
    href: last === null ? null : `/ferments/${last.fermentId}`,
  };
}

const drift = {
  weight: 'condition',
  limit: () =>
    `moving average within ${DRIFT_EWMA.k} standard deviations of its own, by the settled generations`,
  source:
    'self-starting moving average (Hawkins 1987, from memory) or Mann-Kendall trend; settled generations after Speers 2003 and Hammond & Wenn 1985',
  evidence: 'derived',
} as const;

const conditionRules: readonly LineRule[] = [
  {
    ...drift,
    rule: 'tired',
    verdict: 'due',
    text: 'Several measures decline: the line is tired',
    limit: () => `fewer than ${generalLimits.tiredMeasures} measures declining`,
    find: (line) => {
      const names = declining(line).map(nameOf);
      return names.length < generalLimits.tiredMeasures
        ? nothing
        : [{ figure: names.join(', '), ...sourceOf(line) }];
    },
  },
  {
    rule: 'petites',
    weight: 'condition',
    verdict: 'due',
    text: 'Many petites: fresh culture is due',
    limit: () => `at most ${generalLimits.petitePercent} %`,
    source: 'remembered practice, no source; a rise above the line’s own says more',
    evidence: 'from memory',
    find: ({ latestPetites: latest }) =>
      latest !== null && latest.range.low > generalLimits.petitePercent
        ? [
            {
              figure: `${shareWords(latest.range.value)} (${shareRangeWords(latest.range)})`,
              recordId: latest.fermentId,
              href: `/ferments/${latest.fermentId}`,
            },
          ]
        : nothing,
  },
  {
    ...drift,
    rule: 'decline',
    verdict: 'drifting',
    text: 'A measure declines: look for another cause before the yeast is blamed',
    find: (line) => declining(line).map(drifted),
  },
  {
    ...drift,
    rule: 'change',
    verdict: 'steady',
    text: 'A measure changes, not for the worse by itself',
    find: (line) => changed(line).map(drifted),
  },
  {
    ...drift,
    rule: 'no drift',
    verdict: 'steady',
    text: 'Nothing measured has changed beyond its usual spread',
    find: (line) => {
      const judged = line.measures.filter(({ state }) => state === 'steady');
      return judged.length === 0 || changed(line).length + declining(line).length > 0
        ? nothing
        : [{ figure: judged.map(nameOf).join(', '), ...sourceOf(line) }];
    },
  },
];

const alive = (applies: (generation: number, most: number) => boolean, text?: string) => {
  return (line: LineFacts): readonly Found[] => {
    const { aliveGeneration: generation, strain } = line;
    if (generation === null || !applies(generation, strain.maxGenerations)) return nothing;
    const left = strain.maxGenerations - generation;
    return [
      {
        figure: fromFresh(generation),
        ...sourceOf(line),
        ...(text === undefined ? {} : { text: `${left} ${text}` }),
      },
    ];
  };
};

const age = {
  rule: 'generations',
  weight: 'age',
  limit: ({ strain }: LineFacts) => `at most ${strain.maxGenerations}`,
  source: `${housePolicy.source}; no number of generations is a scientific limit`,
  evidence: housePolicy.evidence,
} as const;

const ageRules: readonly LineRule[] = [
  {
    ...age,
    verdict: 'due',
    text: 'The house limit of generations is reached: fresh culture is due',
    find: alive((generation, most) => generation >= most),
  },
  {
    ...age,
    verdict: 'due soon',
    text: 'One more generation before the house limit',
    find: alive((generation, most) => generation === most - 1),
  },
  {
    ...age,
    verdict: 'due soon',
    text: 'Few generations before the house limit',
    find: alive(
      (generation, most) => generation >= most - generalLimits.soonWithinGenerations,
      'more generations before the house limit',
    ),
  },
  {
    ...age,
    verdict: 'steady',
    text: 'Far from the house limit',
    find: alive(() => true, 'more generations before the house limit'),
  },
  {
    rule: 'fresh',
    weight: 'knowledge',
    verdict: 'settling',
    text: 'Fresh yeast is commonly slow in its first generations: that is no decline',
    limit: () => `judged from ${fromFresh(SETTLED_GENERATIONS.to + 1)}`,
    source: 'Hammond & Wenn 1985, quoted by Boulton & Quain 2001',
    evidence: 'second hand',
    find: alive((generation) => generation < SETTLED_GENERATIONS.from),
  },
];

/** Everything that speaks for or against going on with a line. */
export const lineRules: readonly LineRule[] = [...conditionRules, ...ageRules];
