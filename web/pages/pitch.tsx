import { useLocation } from 'preact-iso/router';
import type { SiteKey } from '#shared/sites/site.ts';
import type { FermentStanding } from '#shared/views/ferments.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { Setup } from '#shared/views/setup.ts';
import { fetchCurrentFerments, fetchLotsInStore } from '../apiClient.ts';
import { FormNotPrinted } from '../components/frame/FormNotPrinted.tsx';
import { Loaded } from '../components/frame/Loaded.tsx';
import { announce } from '../components/frame/Notice.tsx';
import { Page } from '../components/frame/Page.tsx';
import { useLoad } from '../components/frame/useLoad.ts';
import { PitchForm } from '../components/pitch/PitchForm.tsx';
import { wortSources } from '../components/pitch/pitchWort.ts';
import { refreshSetup } from '../settings.ts';
import '../styles/pitch.css';
import '../styles/sheets.css';

type Facts = { ferments: FermentStanding[]; lots: LotStanding[]; setup: Setup };

async function fetchFacts(signal: AbortSignal): Promise<Facts> {
  const [ferments, lots, setup] = await Promise.all([
    fetchCurrentFerments(signal),
    fetchLotsInStore(signal),
    refreshSetup(signal),
  ]);
  return { ferments, lots, setup };
}

export function Pitch() {
  const load = useLoad(fetchFacts);
  return (
    <Page title="Pitch" lead="How much of which yeast, into which wort, and how sure that is.">
      <FormNotPrinted instead="The paper to carry is the pitch sheet." />
      <Loaded of={load}>{(facts) => <Ready {...facts} />}</Loaded>
    </Page>
  );
}

function Ready({ ferments, lots, setup }: Facts) {
  const { query, route } = useLocation();
  if (lots.length === 0) return <NoYeast />;
  const named = [...ferments, ...lots].find(({ id }) => id === (query.ferment ?? query.lot));
  const isNear = ({ siteId }: { siteId: SiteKey }) =>
    named === undefined || siteId === named.siteId;
  const all = wortSources(ferments, setup);
  return (
    <PitchForm
      sources={{
        ...all,
        ferments: all.ferments.filter(isNear),
        plannedBrews: all.plannedBrews.filter((brew) => isNear({ siteId: all.siteOf(brew) })),
      }}
      lots={lots.filter(isNear)}
      start={{ lot: query.lot, ferment: query.ferment }}
      onSaved={(saved, { ferment }) => {
        const into = ferment === undefined ? '' : ` into gyle ${ferment.record.gyle}`;
        announce(`The pitch${into} is recorded.`, {
          warnings: saved.flatMap(({ warnings }) => warnings),
        });
        route(ferment === undefined ? '/ferments' : `/ferments/${ferment.id}`);
      }}
    />
  );
}

function NoYeast() {
  return (
    <p class="empty">
      There is no yeast in store to pitch. <a href="/yeast/new">Enter a fresh culture</a>, or{' '}
      <a href="/crop">crop an FV</a>.
    </p>
  );
}
