import { useLocation } from 'preact-iso/router';
import { FormNotPrinted } from '../components/frame/FormNotPrinted.tsx';
import { Loaded } from '../components/frame/Loaded.tsx';
import { announce } from '../components/frame/Notice.tsx';
import { Page } from '../components/frame/Page.tsx';
import { useLoad } from '../components/frame/useLoad.ts';
import { FreshCultureForm } from '../components/lots/FreshCultureForm.tsx';
import { refreshSetup } from '../settings.ts';

export function FreshCulture() {
  const load = useLoad(refreshSetup);
  const { route } = useLocation();
  return (
    <Page
      title="Fresh culture"
      lead={
        <>
          Yeast that comes in from outside the line: it starts a line of its own. Not here yet?{' '}
          <a href="/plan#fresh">See when to order or wake it</a>.
        </>
      }
      back={{ href: '/yeast', label: 'Yeast in store' }}
    >
      <FormNotPrinted instead="A culture once entered is printed from its own page." />
      <Loaded of={load}>
        {(setup) =>
          setup.strains.length === 0 ? (
            <p class="empty">
              A culture needs a strain. <a href="/setup#strains">Add one in Setup</a> first.
            </p>
          ) : (
            <FreshCultureForm
              setup={setup}
              onSaved={({ recordId, code, warnings }) => {
                announce(`${code ?? 'The culture'} is in store.`, {
                  warnings,
                  link: { href: `/bench?lot=${recordId}`, label: 'Count and stain it' },
                });
                route(`/yeast/${recordId}`);
              }}
            />
          )
        }
      </Loaded>
    </Page>
  );
}
