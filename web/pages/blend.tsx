import { useLocation } from 'preact-iso/router';
import { fetchLotsInStore } from '../apiClient.ts';
import { FormNotPrinted } from '../components/frame/FormNotPrinted.tsx';
import { Loaded } from '../components/frame/Loaded.tsx';
import { announce } from '../components/frame/Notice.tsx';
import { Page } from '../components/frame/Page.tsx';
import { useLoad } from '../components/frame/useLoad.ts';
import { BlendForm } from '../components/pitch/BlendForm.tsx';
import '../styles/pitch.css';
import '../styles/sheets.css';

export function Blend() {
  const { query, route } = useLocation();
  const load = useLoad(fetchLotsInStore);
  return (
    <Page
      title="Blend"
      lead="Two lots or more in one container: what the mixture holds, and what to beware of."
      back={{ href: '/yeast', label: 'Yeast in store' }}
    >
      <FormNotPrinted instead="A blend once made is printed from its own page." />
      <Loaded of={load}>
        {(lots) =>
          lots.length < 2 ? (
            <TooFew lots={lots.length} />
          ) : (
            <BlendForm
              lots={lots}
              start={query.lots ?? ''}
              onSaved={([saved]) => {
                if (saved === undefined) return;
                announce(`The blend ${saved.code ?? ''} is recorded.`, {
                  warnings: saved.warnings,
                  link: { href: `/bench?lot=${saved.recordId}`, label: 'Count and stain it' },
                });
                route(`/yeast/${saved.recordId}`);
              }}
            />
          )
        }
      </Loaded>
    </Page>
  );
}

function TooFew({ lots }: { lots: number }) {
  return (
    <p class="empty">
      A blend needs two lots, and {lots === 0 ? 'none is' : 'only one is'} in store.{' '}
      <a href="/crop">Crop an FV</a>, or <a href="/yeast/new">enter a fresh culture</a>.
    </p>
  );
}
