import { useLocation } from 'preact-iso/router';
import type { FermentStanding, LotStanding } from '#shared/views.ts';
import { fetchCurrentFerments, fetchLotsInStore } from '../apiClient.ts';
import { Loaded } from '../components/Loaded.tsx';
import { Page } from '../components/Page.tsx';
import { PitchForm } from '../components/PitchForm.tsx';
import { useLoad } from '../components/useLoad.ts';

type Facts = { ferments: FermentStanding[]; lots: LotStanding[] };

async function fetchFacts(signal: AbortSignal): Promise<Facts> {
  const [ferments, lots] = await Promise.all([
    fetchCurrentFerments(signal),
    fetchLotsInStore(signal),
  ]);
  return {
    ferments: ferments.filter(({ state }) => state === 'collected' || state === 'fermenting'),
    lots,
  };
}

export function Pitch() {
  const { lot, ferment } = useLocation().query;
  const facts = useLoad(fetchFacts);
  return (
    <Page title="Pitch" lead="How much of which yeast into which wort.">
      <Loaded of={facts}>
        {(data) => <Ready {...data} lotId={lot} fermentId={ferment} onPitched={facts.reload} />}
      </Loaded>
    </Page>
  );
}

type ReadyProps = Facts & {
  lotId: string | undefined;
  fermentId: string | undefined;
  onPitched: () => void;
};

function Ready({ ferments, lots, lotId, fermentId, onPitched }: ReadyProps) {
  if (lots.length === 0)
    return (
      <p class="empty">
        No yeast in store. <a href="/setup#fresh">Enter a fresh culture</a> or{' '}
        <a href="/crop">crop</a> first.
      </p>
    );
  if (ferments.length === 0)
    return (
      <p class="empty">
        No gyle waits for yeast. <a href="/ferments/new">Collect a gyle</a> first.
      </p>
    );
  const wanted = ferments.find(({ id }) => id === fermentId);
  const waiting = wanted ?? ferments.find(({ state }) => state === 'collected') ?? ferments[0];
  return (
    <PitchForm
      key={lots.map((lot) => `${lot.id}${lot.left}`).join()}
      ferments={ferments}
      lots={lots}
      startFerment={waiting?.id}
      startLot={lotId}
      onPitched={onPitched}
    />
  );
}
