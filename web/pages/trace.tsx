import { useMemo, useState } from 'preact/hooks';
import { useRoute } from 'preact-iso/router';
import type { Trace as Family } from '#shared/lineage/trace.ts';
import type { TraceNode } from '#shared/lineage/traceNodes.ts';
import { partOf, pathFromStart, type ShownSide, traceSides } from '#shared/lineage/tracePaths.ts';
import { fetchLotsInStore, fetchTrace } from '../apiClient.ts';
import { Loaded, soughtRecord } from '../components/frame/Loaded.tsx';
import { Page } from '../components/frame/Page.tsx';
import { useLoad } from '../components/frame/useLoad.ts';
import { HoldFamily } from '../components/lots/HoldFamily.tsx';
import { LotList } from '../components/lots/LotList.tsx';
import { TraceGraph } from '../components/trace/TraceGraph.tsx';
import { TracePath } from '../components/trace/TracePath.tsx';
import { TraceSearch } from '../components/trace/TraceSearch.tsx';
import { TraceSummary } from '../components/trace/TraceSummary.tsx';
import { TraceTable } from '../components/trace/TraceTable.tsx';
import { pageOf } from '../components/trace/traceWords.ts';
import '../styles/sheets.css';
import '../styles/trace.css';

/** More than this cannot be read in one drawing. */
const mostDrawn = 300;
const scales = [0.5, 0.7, 0.85, 1, 1.25];

export function Trace() {
  const { of = '' } = useRoute().query;
  return of === '' ? <ChooseTrace /> : <TraceOf key={of} of={of} />;
}

function ChooseTrace() {
  const lots = useLoad(fetchLotsInStore);
  return (
    <Page
      title="Trace"
      lead="Who shares a yeast: from any lot, gyle or cask batch up to the source, and down to every ferment, lot and cask."
    >
      <TraceSearch />
      <h2>Or begin with a lot in store</h2>
      <Loaded of={lots}>
        {(items) => <LotList items={items} hrefOf={({ id }) => `/trace?of=${id}`} />}
      </Loaded>
    </Page>
  );
}

function TraceOf({ of }: { of: string }) {
  const load = useLoad((signal) => fetchTrace(of, signal), [of]);
  const title = load.data === null ? 'Trace' : `Trace of ${titled(load.data)}`;
  return (
    <Page title={title} back={{ href: '/trace', label: 'Trace another' }}>
      <Loaded of={load} sought={soughtRecord}>
        {(trace) => <FamilySheet trace={trace} onDone={load.reload} />}
      </Loaded>
    </Page>
  );
}

const titled = ({ of }: Family) => (of.kind === 'ferment' ? `gyle ${of.label}` : of.label);

function FamilySheet({ trace, onDone }: { trace: Family; onDone: () => void }) {
  const [side, setSide] = useState<ShownSide>('both');
  const [scale, setScale] = useState(1);
  const [at, setAt] = useState(trace.of.nodeId);
  const byId = useMemo(() => new Map(trace.nodes.map((node) => [node.id, node])), [trace]);
  const part = useMemo(() => partOf(trace, side, mostDrawn), [trace, side]);
  const isDrawn = part.nodes.some(({ id }) => id === at);
  const looked = isDrawn ? at : trace.of.nodeId;
  const path = pathFromStart(byId, looked);
  const records = 1 + trace.counts.upstream + trace.counts.downstream;
  const fermentOf = (id: string) => trace.edges.find(({ child }) => child === id)?.parent ?? '';
  const hrefOf = (node: TraceNode) => pageOf(node, fermentOf);
  const labelOf = (id: string | null) => byId.get(id ?? '')?.label ?? '';
  return (
    <>
      <TraceSummary counts={trace.counts} />
      <div class="trace-tools">
        <Sides side={side} onChoose={setSide} />
        <Sizes scale={scale} onChoose={setScale} />
        <a class="button quiet" href={`/api/trace.csv?of=${trace.of.id}`} download>
          CSV file
        </a>
        <button type="button" class="button quiet" onClick={() => print()}>
          Print
        </button>
      </div>
      <TraceGraph
        nodes={part.nodes}
        edges={part.edges}
        start={trace.of.nodeId}
        at={looked}
        path={new Set(path.map(({ id }) => id))}
        scale={scale}
        hrefOf={hrefOf}
        onLook={setAt}
      />
      {records > mostDrawn && (
        <p class="trace-drawn">
          Drawn are the {part.nodes.length} nearest of {records} records; all are in the CSV file.
        </p>
      )}
      <TracePath path={path} hrefOf={hrefOf} />
      <HoldFamily trace={trace} onDone={onDone} />
      <TraceTable trace={trace} hrefOf={hrefOf} labelOf={labelOf} />
    </>
  );
}

const sideWords = { both: 'Both ways', upstream: 'Up only', downstream: 'Down only' } as const;

function Sides({ side, onChoose }: { side: ShownSide; onChoose: (side: ShownSide) => void }) {
  return (
    <fieldset class="trace-sides">
      <legend class="unseen">Which way</legend>
      {traceSides.map((each) => (
        <label key={each}>
          <input type="radio" name="side" checked={each === side} onChange={() => onChoose(each)} />
          {sideWords[each]}
        </label>
      ))}
    </fieldset>
  );
}

function Sizes({ scale, onChoose }: { scale: number; onChoose: (scale: number) => void }) {
  const at = scales.indexOf(scale);
  const step = (by: number) => {
    const next = scales[at + by];
    if (next !== undefined) onChoose(next);
  };
  return (
    <span class="trace-sizes">
      <button type="button" class="button quiet" aria-label="Smaller" onClick={() => step(-1)}>
        −
      </button>
      <button type="button" class="button quiet" aria-label="Larger" onClick={() => step(1)}>
        +
      </button>
    </span>
  );
}
