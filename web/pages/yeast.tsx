import type { LotStanding } from '#shared/views.ts';
import { fetchLotsInStore } from '../apiClient.ts';
import { Loaded } from '../components/Loaded.tsx';
import { Page } from '../components/Page.tsx';
import { Status } from '../components/Status.tsx';
import { useLoad } from '../components/useLoad.ts';
import { amount, duration, generation } from '../format.ts';
import '../styles/yeast.css';

export function Yeast() {
  const lots = useLoad(fetchLotsInStore);
  return (
    <Page
      title="Yeast in store"
      lead="Every lot of which something is left, and whether it may be pitched."
    >
      <Loaded of={lots}>{(items) => <LotRows lots={items} />}</Loaded>
      <p class="actions">
        <a class="button quiet" href="/setup#fresh">
          Enter a fresh culture
        </a>
        <a class="button quiet" href="/crop">
          Crop
        </a>
      </p>
    </Page>
  );
}

function LotRows({ lots }: { lots: readonly LotStanding[] }) {
  if (lots.length === 0)
    return (
      <p class="empty">
        No yeast in store. <a href="/setup#fresh">Enter a fresh culture</a>, or{' '}
        <a href="/crop">crop</a> an FV.
      </p>
    );
  return (
    <ul class="lot-rows">
      {lots.map((lot) => (
        <li key={lot.id}>
          <a class="lot-code" href={`/yeast/${lot.id}`}>
            {lot.code}
          </a>
          <Status verdict={lot.verdict.verdict} />
          <div class="lot-why">
            {lot.verdict.reasons[0]?.text}
            <p>
              {lot.strain.name} · {generation(lot.generation)} · {duration(lot.ageHours)} old
              {lot.fromFerment === null ? '' : ` · from gyle ${lot.fromFerment.gyle}`}
            </p>
          </div>
          <span class="lot-left">{amount(lot.left, lot.unit)}</span>
        </li>
      ))}
    </ul>
  );
}
