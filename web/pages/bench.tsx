import { useRef } from 'preact/hooks';
import { useLocation, useRoute } from 'preact-iso/router';
import type { Tally } from '#shared/tally.ts';
import type { Recorded } from '#shared/views/recorded.ts';
import {
  fetchCurrentFerments,
  fetchFerment,
  fetchLot,
  fetchLotsInStore,
  fetchNewestCount,
  fetchNewestStain,
  fetchPlan,
  type LotPage,
} from '../apiClient.ts';
import { BenchHistory } from '../components/bench/BenchHistory.tsx';
import { FvPick, LotPick } from '../components/bench/BenchPick.tsx';
import { CountForm } from '../components/bench/CountForm.tsx';
import { FvCount } from '../components/bench/FvCount.tsx';
import { isCountable } from '../components/bench/isCountable.ts';
import { StainForm, useStainForm } from '../components/bench/StainForm.tsx';
import { Loaded, soughtGyle, soughtLot } from '../components/frame/Loaded.tsx';
import { announce } from '../components/frame/Notice.tsx';
import { Page } from '../components/frame/Page.tsx';
import { SiteOfRecord } from '../components/frame/SiteOfRecord.tsx';
import { Status } from '../components/frame/Status.tsx';
import { useLoad } from '../components/frame/useLoad.ts';
import { LotPlates } from '../components/lots/LotPlates.tsx';
import { NotSentYet } from '../components/outbox/NotSentYet.tsx';
import { amount, generation } from '../format.ts';
import '../styles/sheets.css';
import '../styles/bench.css';

export function Bench() {
  // Of this page, not of the one that is being gone to.
  const { lot, ferment } = useRoute().query;
  if (ferment !== undefined) return <FvOnBench key={ferment} id={ferment} />;
  return lot === undefined ? <ChooseLot /> : <LotOnBench key={lot} id={lot} />;
}

/** Without the plan the lots are shown all the same. */
async function fetchLotsAndBrews(signal: AbortSignal) {
  const [lots, brews] = await Promise.all([
    fetchLotsInStore(signal),
    fetchPlan(signal).then(
      (plan) => plan.brews,
      () => [],
    ),
  ]);
  return { lots, brews };
}

function ChooseLot() {
  const known = useLoad(fetchLotsAndBrews);
  const ferments = useLoad(fetchCurrentFerments);
  return (
    <Page title="Bench" lead="Which lot is under the microscope?">
      <Loaded of={known}>{({ lots, brews }) => <LotPick items={lots} brews={brews} />}</Loaded>
      <Loaded of={ferments}>{(items) => <FvPick items={items.filter(isCountable)} />}</Loaded>
    </Page>
  );
}

function FvOnBench({ id }: { id: string }) {
  const { route } = useLocation();
  const ferment = useLoad((signal) => fetchFerment(id, signal), [id]);
  const name = ferment.data === null ? '' : `: ${ferment.data.vessel}`;
  return (
    <Page title={`Bench${name}`} back={{ href: '/bench', label: 'Another lot or FV' }}>
      <Loaded of={ferment} sought={soughtGyle}>
        {(standing) => (
          <FvCount
            ferment={standing}
            onSaved={(warnings) => {
              announce('The count of the wort is written down.', { warnings });
              route(`/ferments/${standing.id}`);
            }}
          />
        )}
      </Loaded>
    </Page>
  );
}

async function fetchForBench(id: string, signal: AbortSignal) {
  const [lot, lastCount, lastStain] = await Promise.all([
    fetchLot(id, signal),
    fetchNewestCount(signal),
    fetchNewestStain(signal),
  ]);
  return { lot, lastCount, lastStain };
}

function LotOnBench({ id }: { id: string }) {
  const known = useLoad((signal) => fetchForBench(id, signal), [id]);
  const code = known.data?.lot.code;
  return (
    <Page
      title={code === undefined ? 'Bench' : `Bench: ${code}`}
      back={{ href: '/bench', label: 'Another lot' }}
    >
      <Loaded of={known} sought={soughtLot}>
        {({ lot, lastCount, lastStain }) => (
          <BenchSheet
            lot={lot}
            lastCount={lastCount}
            lastStain={lastStain}
            onChange={known.reload}
          />
        )}
      </Loaded>
    </Page>
  );
}

type BenchSheetProps = {
  lot: LotPage;
  lastCount: Recorded<'count'> | undefined;
  lastStain: Recorded<'stain'> | undefined;
  onChange: () => void;
};

function BenchSheet({ lot, lastCount, lastStain, onChange }: BenchSheetProps) {
  const isStain = useLocation().query.do === 'stain';
  const saved = (text: string, isStained: boolean) => (warnings: readonly string[]) => {
    const { verdict } = lot.verdict;
    const next = isStained
      ? { href: `/pitch?lot=${lot.id}`, label: 'Pitch it' }
      : { href: `/bench?lot=${lot.id}&do=stain`, label: 'Now the stain' };
    announce(text, {
      warnings,
      ...(verdict === 'fit' || verdict === 'test first' ? { link: next } : {}),
    });
    onChange();
  };
  const stainForm = useStainForm({
    lot,
    stain: lastStain?.stain,
    onSaved: saved('The stain is written down.', true),
  });
  const tallied = useRef(new Map<string, Tally>());
  const alsoStain = (side: string, tally: Tally) => {
    tallied.current.set(side, tally);
    const all = [...tallied.current.values()];
    const dead = all.reduce((sum, each) => sum + each.dead, 0);
    if (dead === 0) return;
    stainForm.set('live', String(all.reduce((sum, each) => sum + each.live, 0)));
    stainForm.set('dead', String(dead));
    announce('Live and dead of this tally stand in the stain form too.', {
      link: { href: `/bench?lot=${lot.id}&do=stain`, label: 'See the stain' },
    });
  };
  return (
    <>
      <p class="lead">
        {`${lot.strain.name}, ${generation(lot.generation)} · ${amount(lot.left, lot.unit)} left `}
        <Status verdict={lot.verdict.verdict} />
      </p>
      <SiteOfRecord site={lot.siteId} />
      <NotSentYet about={lot.id} />
      <BenchTabs id={lot.id} isStain={isStain} />
      <div class="not-printed" hidden={isStain}>
        <h2>Count the cells</h2>
        <CountForm
          lot={lot}
          last={lastCount}
          onTallied={alsoStain}
          onSaved={(warnings) => {
            tallied.current.clear();
            saved('The count is written down.', lot.stain !== null)(warnings);
          }}
        />
      </div>
      <div class="not-printed" hidden={!isStain}>
        <h2>Stain for live and dead</h2>
        <StainForm form={stainForm} lot={lot} limitPercent={lot.strain.minViabilityPercent} />
      </div>
      <BenchHistory
        lot={lot}
        limitPercent={lot.strain.minViabilityPercent}
        history={lot.history}
        onAmended={(text) => {
          announce(text);
          onChange();
        }}
      />
      <LotPlates lot={lot} />
    </>
  );
}

function BenchTabs({ id, isStain }: { id: string; isStain: boolean }) {
  return (
    <nav class="sheet-tabs" aria-label="What is done at the bench">
      <a href={`/bench?lot=${id}`} aria-current={isStain ? undefined : 'true'}>
        Count
      </a>
      <a href={`/bench?lot=${id}&do=stain`} aria-current={isStain ? 'true' : undefined}>
        Stain
      </a>
    </nav>
  );
}
