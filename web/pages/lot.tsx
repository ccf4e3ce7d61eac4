import { useRoute } from 'preact-iso/router';
import type { VerdictWord } from '#shared/verdict.ts';
import { fetchLot, type LotPage } from '../apiClient.ts';
import { AllTheSame } from '../components/form/AllTheSame.tsx';
import { Loaded, soughtLot } from '../components/frame/Loaded.tsx';
import { announce } from '../components/frame/Notice.tsx';
import { Page } from '../components/frame/Page.tsx';
import { SiteOfRecord } from '../components/frame/SiteOfRecord.tsx';
import { Status } from '../components/frame/Status.tsx';
import { useLoad } from '../components/frame/useLoad.ts';
import { LotActions } from '../components/lots/LotActions.tsx';
import { LotFigures } from '../components/lots/LotFigures.tsx';
import { LotHistory } from '../components/lots/LotHistory.tsx';
import { LotPlates } from '../components/lots/LotPlates.tsx';
import { ReasonList } from '../components/lots/ReasonList.tsx';
import { NotSentYet } from '../components/outbox/NotSentYet.tsx';
import { moment } from '../format.ts';
import '../styles/yeast.css';
import '../styles/sheets.css';

export function Lot() {
  const { id = '' } = useRoute().params;
  const load = useLoad((signal) => fetchLot(id, signal), [id]);
  return (
    <Page title={load.data?.code ?? 'Lot'} back={{ href: '/yeast', label: 'Yeast in store' }}>
      <Loaded of={load} sought={soughtLot}>
        {(lot) => <LotSheet lot={lot} onDone={load.reload} />}
      </Loaded>
    </Page>
  );
}

function LotSheet({ lot, onDone }: { lot: LotPage; onDone: () => void }) {
  const { read, do: sought } = useRoute().query;
  return (
    <>
      <p class="lot-head">
        <Status verdict={lot.verdict.verdict} />
        <Origin lot={lot} />
      </p>
      <SiteOfRecord site={lot.siteId} />
      {lot.held !== null && (
        <p class="warning">
          On hold since {moment(lot.held.since)}, by {lot.held.by}: {lot.held.why}
        </p>
      )}
      <AllTheSame overrides={lot.overrides} />
      <NotSentYet about={lot.id} />
      <LotFigures lot={lot} />
      <p class="actions">
        <a class={buttonWhen(lot, 'fit')} href={`/pitch?lot=${lot.id}`}>
          Pitch it
        </a>
        <a class={buttonWhen(lot, 'test first')} href={`/bench?lot=${lot.id}`}>
          Count and stain
        </a>
        <a class="button quiet" href={`/yeast/blend?lots=${lot.id}`}>
          Blend it
        </a>
        {lot.lineId !== '' && (
          <a class="button quiet" href={`/lines/${lot.lineId}`}>
            Its line
          </a>
        )}
        <a class="button quiet" href={`/trace?of=${lot.id}`}>
          Trace it
        </a>
        <a class="button quiet" href={`/label?lot=${lot.id}`}>
          Label
        </a>
      </p>
      <h2>Why “{lot.verdict.verdict}”</h2>
      <ReasonList lot={lot} />
      <h2 class="not-printed">In store</h2>
      <LotActions lot={lot} sought={sought} plateId={read} onDone={onDone} />
      <LotPlates lot={lot} />
      <LotHistory
        lot={lot}
        onAmended={(text) => {
          announce(text);
          onDone();
        }}
      />
    </>
  );
}

/** The first thing to do with a lot stands out. */
const buttonWhen = ({ verdict }: LotPage, first: VerdictWord) =>
  verdict.verdict === first ? 'button' : 'button quiet';

const kinds = {
  freshCulture: 'Fresh culture',
  crop: 'Crop',
  blend: 'Mixed lot',
} as const;

function Origin({ lot }: { lot: LotPage }) {
  const { container, place } = lot.record;
  const stands = [container, place].filter((part) => part !== undefined).join(', ');
  return (
    <span>
      {lot.kind === 'transfer'
        ? `${lot.strain.name}, sent here`
        : `${kinds[lot.kind]} of ${lot.strain.name}`}
      {lot.fromFerment !== null && (
        <>
          , from{' '}
          <a href={`/ferments/${lot.fromFerment.id}`}>
            gyle {lot.fromFerment.gyle} {lot.fromFerment.beer}
          </a>
        </>
      )}
      {stands !== '' && `; ${stands}`}
    </span>
  );
}
