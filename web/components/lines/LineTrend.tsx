import type { LineMeasure } from '#shared/lines/lineMeasures.ts';
import type { LineMeasureStanding } from '#shared/views/lines.ts';
import { boundWords } from '../../charts/lineFinding.ts';
import { fixed } from '../../format.ts';
import { Why } from '../frame/Why.tsx';

/** The slow drift of a measure, with its limits and how it was worked out. */
export function LineTrend({
  standing: { trend, limits },
  measure,
}: {
  standing: LineMeasureStanding;
  measure: LineMeasure;
}) {
  if (trend === null) return null;
  const { unit, decimals } = measure;
  const slope = (value: number) => `${value > 0 ? '+' : ''}${fixed(value, decimals + 1)}`;
  return (
    <>
      <p class="chart-trend">
        {`Trend ${slope(trend.slopePerGeneration)} ${unit} a generation (${slope(trend.slopeLow)} to ${slope(trend.slopeHigh)}), ${chanceWords(trend.pValue)}.`}
      </p>
      <Why title="Why these limits and this trend" isLong>
        <dl>
          <dt>Limits</dt>
          <dd>
            {limits === null
              ? 'None yet: three settled values that differ are needed.'
              : `Mean of ${limits.values} settled values ± 3 sigma; sigma ${fixed(limits.sigma, decimals + 1)} ${unit}, the mean moving range over 1.128 (NIST/SEMATECH e-Handbook, 6.3.2.2).${boundWhy(limits, measure)}`}
          </dd>
          <dt>Moving average</dt>
          <dd>
            Of the later values about the settled mean, weight 0.2 to the newest, limits at 2.86
            sigma (NIST/SEMATECH e-Handbook, 6.3.2.4).
          </dd>
          <dt>Patterns</dt>
          <dd>
            The four rules of Western Electric 1956, from memory. They cry wolf about once in 92
            values, so they are shown and do not decide.
          </dd>
          <dt>Verdict</dt>
          <dd>
            Limits set by so few values are themselves unsure. Whether it drifts is therefore told
            by standard scores that allow for that and learn from other lines of the strain
            (self-starting moving average, Hawkins 1987, from memory), or by a trend with p below
            0.003.
          </dd>
          <dt>Trend</dt>
          <dd>
            {`Theil-Sen slope with its 95 % range; Mann-Kendall S ${trend.s}, variance ${fixed(trend.variance, 1)}, over ${trend.values} values (USEPA 2009, chapter 17).`}{' '}
            The first generations do not count.
          </dd>
        </dl>
      </Why>
    </>
  );
}

function boundWhy(limits: NonNullable<LineMeasureStanding['limits']>, measure: LineMeasure) {
  const bound = boundWords(limits, measure);
  return bound === ''
    ? ''
    : ` ${bound} Three sigma would reach further: on that side no value is out.`;
}

const chanceWords = (pValue: number) =>
  pValue < 0.001 ? 'p below 0.001' : `p ${fixed(pValue, pValue < 0.1 ? 3 : 2)}`;
