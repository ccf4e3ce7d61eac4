import type { LotStanding } from '#shared/views/lots.ts';
import { fetchLotsInStore } from '../apiClient.ts';
import { Caution } from '../components/frame/Caution.tsx';
import { Loaded } from '../components/frame/Loaded.tsx';
import { Page } from '../components/frame/Page.tsx';
import { useLoad } from '../components/frame/useLoad.ts';
import { ScanLabel } from '../components/labels/ScanLabel.tsx';
import { LotRows } from '../components/lots/LotRows.tsx';
import '../styles/yeast.css';

export function Yeast() {
  const load = useLoad(fetchLotsInStore);
  return (
    <Page
      title="Yeast in store"
      lead="Every lot of which something is left, and whether it is fit to pitch."
    >
      <Loaded of={load}>{(lots) => <Store lots={lots} />}</Loaded>
      <p class="actions">
        <a class="button quiet" href="/crop">
          Crop an FV
        </a>
        <a class="button quiet" href="/yeast/new">
          Enter a fresh culture
        </a>
      </p>
      <ScanLabel />
      <Caution title="Live yeast makes gas, even in the cold">
        <p>Vent every container daily; a tight one can burst, and glass is the worst.</p>
      </Caution>
    </Page>
  );
}

function Store({ lots }: { lots: readonly LotStanding[] }) {
  if (lots.length === 0)
    return (
      <p class="empty">
        No yeast is in store. What you crop stands here, and so does each fresh culture that comes
        in. A new brewery begins with <a href="/yeast/new">the yeast it has</a>.
      </p>
    );
  const strains = [...new Map(lots.map(({ strain }) => [strain.id, strain.name]))];
  return (
    <>
      {strains.map(([id, name]) => (
        <section key={id}>
          <h2>{name}</h2>
          <LotRows lots={lots.filter(({ strain }) => strain.id === id)} />
        </section>
      ))}
    </>
  );
}
