import { useCallback } from 'preact/hooks';
import lazy from 'preact-iso/lazy';
import type { LineMeasure } from '#shared/lines/lineMeasures.ts';
import type { LineMeasureStanding, LineSheet } from '#shared/views/lines.ts';
import { generationChart } from '../../charts/generationChart.ts';
import { lineFinding } from '../../charts/lineFinding.ts';
import { firstGeneration } from '../../settings.ts';
import type { Palette } from '../frame/Chart.tsx';
import { Fold } from '../frame/Fold.tsx';
import { LineMeasureTable } from './LineMeasureTable.tsx';
import { MeasureState } from './LineState.tsx';
import { LineTrend } from './LineTrend.tsx';

const Chart = lazy(() => import('../frame/Chart.tsx').then((module) => module.Chart));

type Props = { line: LineSheet; measure: LineMeasure; standing: LineMeasureStanding };

/** One measure of a line: the chart, what it shows in words, its trend and its table. */
export function LineChart({ line, measure, standing }: Props) {
  const { points, strain } = line;
  const limit = measure.key === 'viabilityPercent' ? strain.minViabilityPercent : null;
  const plot = useCallback(
    (palette: Palette) => {
      const gyleOf = new Map(points.map(({ fermentId, gyle }) => [fermentId, gyle]));
      const shown = { standing, measure, limit, gyleOf, palette };
      return generationChart({ ...shown, firstGeneration: firstGeneration.value });
    },
    [points, standing, measure, limit],
  );
  const title = `chart-${measure.key}`;
  return (
    <Fold
      isPressing={standing.isDecline}
      summary={
        <>
          <h3 id={title}>
            {measure.name}, {measure.unit}
          </h3>
          <MeasureState standing={standing} />
        </>
      }
    >
      <figure class="chart">
        <p class="chart-what">{measure.what}</p>
        {standing.points.length > 0 && (
          <Chart plot={plot} labelledBy={`${title} ${title}-finding`} />
        )}
        <figcaption id={`${title}-finding`}>
          {lineFinding({ standing, measure, limit, firstGeneration: firstGeneration.value })}
        </figcaption>
        <LineTrend standing={standing} measure={measure} />
        {standing.points.length > 0 && (
          <LineMeasureTable points={points} standing={standing} measure={measure} />
        )}
      </figure>
    </Fold>
  );
}
