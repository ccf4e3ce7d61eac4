import { useLocation } from 'preact-iso/router';
import type { Setup } from '#shared/views/setup.ts';
import { FermentForm } from '../components/ferments/FermentForm.tsx';
import { FormNotPrinted } from '../components/frame/FormNotPrinted.tsx';
import { Loaded } from '../components/frame/Loaded.tsx';
import { announce } from '../components/frame/Notice.tsx';
import { Page } from '../components/frame/Page.tsx';
import { useLoad } from '../components/frame/useLoad.ts';
import { refreshSetup } from '../settings.ts';
import '../styles/sheets.css';
import '../styles/ferments.css';

export function NewFerment() {
  const setup = useLoad(refreshSetup);
  return (
    <Page
      title="Collect a gyle"
      lead="Write down the wort as it was collected. Pitching comes next."
      back={{ href: '/ferments', label: 'Ferments' }}
    >
      <FormNotPrinted instead="A gyle once entered is printed from its own page." />
      <Loaded of={setup}>{(known) => <NewFermentForm setup={known} />}</Loaded>
    </Page>
  );
}

function NewFermentForm({ setup }: { setup: Setup }) {
  const { query, route } = useLocation();
  if (setup.strains.length === 0 || setup.vessels.length === 0)
    return (
      <p class="empty">
        A gyle needs a strain and an FV.{' '}
        <a href={`/setup#${setup.strains.length === 0 ? 'strains' : 'vessels'}`}>
          Add them in Setup
        </a>{' '}
        first.
      </p>
    );
  const { plannedBrews, notBrewed } = setup;
  const planned = [...notBrewed, ...plannedBrews].find(({ id }) => id === query.planned);
  return (
    <>
      {query.planned !== undefined && planned === undefined && (
        <p class="warning">
          The brew asked for is collected already, or was struck out: see <a href="/plan">Plan</a>.
        </p>
      )}
      <FermentForm
        setup={setup}
        planned={planned}
        onSaved={({ recordId, warnings }) => {
          announce('The gyle is written down.', {
            warnings,
            link: { href: `/pitch?ferment=${recordId}`, label: 'Pitch it' },
          });
          route(`/ferments/${recordId}`);
        }}
      />
    </>
  );
}
