import { useCallback } from 'preact/hooks';
import lazy, { ErrorBoundary } from 'preact-iso/lazy';
import { useRoute } from 'preact-iso/router';
import type { LineStanding } from '#shared/views.ts';
import { fetchLine } from '../apiClient.ts';
import { generationChart } from '../charts/generationChart.ts';
import { lineFinding } from '../charts/lineFinding.ts';
import { type LineMeasure, lineMeasures, measuredPoints } from '../charts/lineMeasures.ts';
import type { Palette } from '../components/Chart.tsx';
import { LineState } from '../components/LineState.tsx';
import { LineTable } from '../components/LineTable.tsx';
import { Loaded } from '../components/Loaded.tsx';
import { Page } from '../components/Page.tsx';
import { Status } from '../components/Status.tsx';
import { useLoad } from '../components/useLoad.ts';
import { Why } from '../components/Why.tsx';
import { day, generation } from '../format.ts';
import { firstGeneration } from '../settings.ts';
import '../styles/sheets.css';
import '../styles/lines.css';

const Chart = lazy(() => import('../components/Chart.tsx').then((module) => module.Chart));

export function Line() {
  const id = useRoute().params.id ?? '';
  const line = useLoad((signal) => fetchLine(id, signal), [id]);
  const { data } = line;
  return (
    <Page
      title={data === null ? 'Line' : `Line ${data.code}`}
      back={{ href: '/lines', label: 'Lines' }}
    >
      <Loaded of={line}>{(standing) => <LinePage line={standing} />}</Loaded>
    </Page>
  );
}

function LinePage({ line }: { line: LineStanding }) {
  return (
    <>
      <p class="lead">
        {`${line.strain.name}, since ${day(line.startedAt)}, up to ${generation(line.highestGeneration)}`}
      </p>
      <p>
        <LineState state={line.state} />
      </p>
      <LineReasons reasons={line.reasons} />
      {line.points.length > 0 && <h2>By generation</h2>}
      {line.points.length > 0 && <LineCharts line={line} />}
      <h2>The figures</h2>
      <LineTable points={line.points} />
    </>
  );
}

function LineReasons({ reasons }: Pick<LineStanding, 'reasons'>) {
  if (reasons.length === 0) return null;
  return (
    <ul class="reasons">
      {reasons.map((reason) => (
        <li key={reason.rule}>
          <p>
            <Status verdict={reason.verdict} /> {reason.text.replace(/\.?$/, '.')}
          </p>
          <Why title={`${reason.figure}; limit ${reason.limit}`}>
            <p>{`From ${reason.source} (${reason.evidence}).`}</p>
          </Why>
        </li>
      ))}
    </ul>
  );
}

function LineCharts({ line }: { line: LineStanding }) {
  return (
    <ErrorBoundary>
      <ChartKey />
      <div class="charts">
        {lineMeasures.map((measure) => (
          <LineChart key={measure.key} line={line} measure={measure} />
        ))}
      </div>
    </ErrorBoundary>
  );
}

function LineChart({ line, measure }: { line: LineStanding; measure: LineMeasure }) {
  const { points } = line;
  const limit = measure.key === 'viabilityPercent' ? line.strain.minViabilityPercent : null;
  const plot = useCallback(
    (palette: Palette) =>
      generationChart({ points, measure, limit, firstGeneration: firstGeneration.value, palette }),
    [points, measure, limit],
  );
  const title = `chart-${measure.key}`;
  const finding = lineFinding({ points, measure, limit, firstGeneration: firstGeneration.value });
  return (
    <figure class="chart">
      <h3 id={title}>
        {measure.name}, {measure.unit}
      </h3>
      <p class="chart-what">{measure.what}</p>
      {measuredPoints(points, measure).length > 0 && (
        <Chart plot={plot} labelledBy={`${title} ${title}-finding`} />
      )}
      <figcaption id={`${title}-finding`}>{finding}</figcaption>
    </figure>
  );
}

/** What the marks in the charts mean, by their shape. */
function ChartKey() {
  return (
    <ul class="chart-key" aria-label="Marks in the charts">
      <li>
        <svg viewBox="0 0 28 16" aria-hidden="true">
          <circle cx="14" cy="8" r="5" class="key-point" />
        </svg>
        a ferment
      </li>
      <li>
        <svg viewBox="0 0 28 16" aria-hidden="true">
          <path d="M14 1l8 14H6Z" class="key-beyond" />
        </svg>
        a ferment beyond the house limit
      </li>
      <li>
        <svg viewBox="0 0 28 16" aria-hidden="true">
          <path d="M0 8h28" class="key-middle" />
        </svg>
        middle of each generation
      </li>
      <li>
        <svg viewBox="0 0 28 16" aria-hidden="true">
          <path d="M0 8h28" class="key-limit" />
        </svg>
        house limit
      </li>
    </ul>
  );
}
