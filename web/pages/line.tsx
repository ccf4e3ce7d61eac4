import { ErrorBoundary } from 'preact-iso/lazy';
import { useRoute } from 'preact-iso/router';
import { lineMeasures } from '#shared/lines/lineMeasures.ts';
import type { LineSheet, LineSheetAtSite } from '#shared/views/lines.ts';
import { fetchLine } from '../apiClient.ts';
import { Fold } from '../components/frame/Fold.tsx';
import { Loaded, soughtLine } from '../components/frame/Loaded.tsx';
import { Page } from '../components/frame/Page.tsx';
import { useLoad } from '../components/frame/useLoad.ts';
import { LineChart } from '../components/lines/LineChart.tsx';
import { LineChartKey } from '../components/lines/LineChartKey.tsx';
import { LineState } from '../components/lines/LineState.tsx';
import { LineTable } from '../components/lines/LineTable.tsx';
import { LineReasonList } from '../components/lots/ReasonList.tsx';
import { day, generation } from '../format.ts';
import { siteIdOf, siteName } from '../sites.ts';
import '../styles/sheets.css';
import '../styles/yeast.css';
import '../styles/lines.css';

export function Line() {
  const id = useRoute().params.id ?? '';
  const { at } = useRoute().query;
  const line = useLoad((signal) => fetchLine(id, at, signal), [id, at]);
  const { data } = line;
  return (
    <Page
      title={data === null ? 'Line' : `Line ${data.code}`}
      back={{ href: '/lines', label: 'Lines' }}
    >
      <Loaded of={line} sought={soughtLine}>
        {(standing) => <LinePage line={standing} />}
      </Loaded>
    </Page>
  );
}

function LinePage({ line }: { line: LineSheetAtSite }) {
  return (
    <>
      <SitesOfLine line={line} />
      <p class="lead">
        {`${line.strain.name}, since ${day(line.startedAt)}, up to ${generation(line.highestGeneration)}`}
      </p>
      <p>
        <LineState state={line.state} />
      </p>
      <h2>{line.state === 'ended' ? 'How it went' : `Why “${line.state}”`}</h2>
      <LineReasonList line={line} />
      {line.points.length > 0 && <h2>By generation</h2>}
      {line.points.length > 0 && <LineCharts line={line} />}
      <h2>All figures</h2>
      <Fold
        summary={`${line.points.length === 1 ? '1 ferment, every measure of it' : `${line.points.length} ferments, every measure of each`}`}
      >
        <LineTable points={line.points} />
      </Fold>
    </>
  );
}

/** The sites a line is kept at: each has its own ferments, limits and verdict. */
function SitesOfLine({ line }: { line: LineSheetAtSite }) {
  if (line.sites.length === 0) return null;
  return (
    <nav class="sheet-tabs" aria-label="The line at each site">
      {line.sites.map((site) => (
        <a
          key={site}
          href={`/lines/${line.id}?at=${siteIdOf(site)}`}
          aria-current={site === line.siteId ? 'true' : undefined}
        >
          At {siteName(site)}
        </a>
      ))}
    </nav>
  );
}

function LineCharts({ line }: { line: LineSheet }) {
  return (
    <ErrorBoundary>
      <LineChartKey />
      <div class="charts">
        {lineMeasures.flatMap((measure) => {
          const standing = line.measures.find(({ key }) => key === measure.key);
          return standing === undefined
            ? []
            : [<LineChart key={measure.key} line={line} measure={measure} standing={standing} />];
        })}
      </div>
    </ErrorBoundary>
  );
}
