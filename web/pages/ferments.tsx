import type { FermentStanding } from '#shared/views/ferments.ts';
import { fetchCurrentFerments } from '../apiClient.ts';
import { FermentRows } from '../components/ferments/FermentRows.tsx';
import { Loaded } from '../components/frame/Loaded.tsx';
import { Page } from '../components/frame/Page.tsx';
import { useLoad } from '../components/frame/useLoad.ts';

export function Ferments() {
  const ferments = useLoad(fetchCurrentFerments);
  return (
    <Page title="Ferments">
      <p class="actions">
        <a class="button" href="/ferments/new">
          Collect a gyle
        </a>
      </p>
      <Loaded of={ferments}>{(items) => <FermentsByState items={items} />}</Loaded>
    </Page>
  );
}

function FermentsByState({ items }: { items: readonly FermentStanding[] }) {
  const running = items.filter(({ state }) => state !== 'racked').toSorted(byUrgency);
  const racked = items.filter(({ state }) => state === 'racked');
  return (
    <>
      <h2>Running</h2>
      {running.length === 0 ? (
        <p class="empty">No gyle is in FV. Collect one, then pitch it.</p>
      ) : (
        <FermentRows items={running} />
      )}
      {racked.length > 0 && (
        <>
          <h2>Racked in the last fortnight</h2>
          <FermentRows items={racked} />
        </>
      )}
    </>
  );
}

const urgency = ['slow', 'no yeast yet', 'no reading', 'on course', 'too early', 'done'] as const;

function byUrgency(a: FermentStanding, b: FermentStanding): number {
  const rank = ({ flag }: FermentStanding) => urgency.indexOf(flag.status);
  return rank(a) - rank(b) || a.vessel.localeCompare(b.vessel, 'en-GB', { numeric: true });
}
