import { useState } from 'preact/hooks';
import { countWarnings } from '#shared/calculations/countCalculation.ts';
import {
  type CellConcentration,
  cellConcentration,
  cellsForTarget,
} from '#shared/science/cellCount.ts';
import type { CellCount } from '#shared/science/countSetup.ts';
import { cellsPer, cellsRange, figure, fixed } from '../../format.ts';
import { Figure } from '../frame/Figure.tsx';
import { Why } from '../frame/Why.tsx';

type CountResultProps = { count: CellCount | undefined; basis: 'mL' | 'g' };

/** What the squares amount to so far, how sure it is, and what would make it surer. */
export function CountResult({ count, basis }: CountResultProps) {
  if (count === undefined)
    return (
      <p class="waiting">Count a square and give the dilution factor: the result stands here.</p>
    );
  const result = cellConcentration(count);
  return (
    <>
      <Figure
        label={`Cells per ${basis}, dead and alive`}
        value={cellsPer(result.cellsPerMl, basis)}
        range={cellsRange(result, basis)}
        size="huge"
      >
        <p>{`${result.cellsCounted} cells in ${result.squaresCounted} ${result.squaresCounted === 1 ? 'square' : 'squares'}`}</p>
      </Figure>
      <CountWarnings result={result} count={count} />
      {!result.dispersion?.clumped && <MoreCells count={count} />}
      <Why title="How this came about">
        <Workings result={result} count={count} basis={basis} />
      </Why>
    </>
  );
}

function CountWarnings({ result, count }: { result: CellConcentration; count: CellCount }) {
  return (
    <>
      {countWarnings(count, result).map((warning) => (
        <p key={warning} class="warning">
          {warning}
        </p>
      ))}
    </>
  );
}

const targets = [10, 15, 20, 30];

function MoreCells({ count }: { count: CellCount }) {
  const [percent, setPercent] = useState(20);
  const more = cellsForTarget({ ...count, targetRelativeHalfWidth: percent / 100 });
  return (
    <p class="more-cells">
      <label>
        To know it within{' '}
        <select value={percent} onChange={(event) => setPercent(Number(event.currentTarget.value))}>
          {targets.map((target) => (
            <option key={target} value={target}>
              ± {target} %
            </option>
          ))}
        </select>
      </label>{' '}
      <strong>{moreWords(more)}</strong>
    </p>
  );
}

function moreWords(more: number | undefined): string {
  if (more === undefined)
    return 'more cells alone will not do: the filling and the pipetting weigh more. Count the other side or make a second dilution.';
  return more === 0 ? 'enough is counted.' : `count ${more} more cells.`;
}

const partNames = {
  counting: 'cells counted',
  chamber: 'filling the chamber',
  pipetting: 'pipetting',
  'between fillings': 'sides or dilutions apart',
} as const;

type WorkingsProps = { result: CellConcentration; count: CellCount; basis: 'mL' | 'g' };

function Workings({ result, count, basis }: WorkingsProps) {
  const total = result.budget.reduce((sum, part) => sum + part.relativeVariance, 0);
  const { squareAreaMm2, depthMm } = count;
  return (
    <>
      <p>
        {`Cells ÷ (squares × ${squareAreaMm2} mm² × ${depthMm} mm ÷ 1000 ÷ dilution), over all sides; per ${basis} of the sample.`}
      </p>
      {total > 0 && (
        <table class="ruled small">
          <caption>Where the range comes from</caption>
          <thead>
            <tr>
              <th scope="col">Part</th>
              <th scope="col" class="numeric">
                Alone, ±
              </th>
              <th scope="col" class="numeric">
                Share
              </th>
            </tr>
          </thead>
          <tbody>
            {result.budget.map(({ part, relativeVariance }) => (
              <tr key={part}>
                <th scope="row">{partNames[part]}</th>
                <td class="numeric">{`${fixed(196 * Math.sqrt(relativeVariance), 0)} %`}</td>
                <td class="numeric">{`${fixed((100 * relativeVariance) / total, 0)} %`}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <p>
        The range holds the true figure 95 times in 100: exact Poisson limits of the cells counted
        (Student 1907; Garwood 1936), with the spread of chamber filling and pipetting set in Setup
        (Berkson, Magath and Hurn 1939, from memory).
      </p>
      {result.dispersion && (
        <p>
          {`Evenness of the squares: ${figure(result.dispersion.statistic)} on ${result.dispersion.degreesOfFreedom} degrees of freedom, p = ${figure(result.dispersion.pValue, 2)}; below 0.01 they count as clumped.`}
        </p>
      )}
    </>
  );
}
