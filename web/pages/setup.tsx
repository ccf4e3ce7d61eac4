import { Loaded } from '../components/frame/Loaded.tsx';
import { Page } from '../components/frame/Page.tsx';
import { useLoad } from '../components/frame/useLoad.ts';
import { PlannedBrews } from '../components/plan/PlannedBrews.tsx';
import { Appearance } from '../components/setup/Appearance.tsx';
import { Brewery } from '../components/setup/Brewery.tsx';
import { LogSafety } from '../components/setup/LogSafety.tsx';
import { Media } from '../components/setup/Media.tsx';
import { Sites } from '../components/setup/Sites.tsx';
import { Strains } from '../components/setup/Strains.tsx';
import { Vessels } from '../components/setup/Vessels.tsx';
import { refreshSetup } from '../settings.ts';
import '../styles/sheets.css';

export function SetupPage() {
  const load = useLoad(refreshSetup);
  return (
    <Page title="Setup" lead="What the brewery is, what it ferments with, and what it plans.">
      <Loaded of={load}>
        {(setup) => (
          <>
            <Brewery brewery={setup.brewery} onChanged={load.reload} />
            {setup.brewery !== null && (
              <>
                <Strains strains={setup.strains} onChanged={load.reload} />
                <Vessels vessels={setup.vessels} onChanged={load.reload} />
                {setup.strains.length > 0 && <FreshCulture />}
                <PlannedBrews setup={setup} onChanged={load.reload} />
                <Media media={setup.media} onChanged={load.reload} />
                <Sites sites={setup.sites} homeId={setup.homeId} onChanged={load.reload} />
              </>
            )}
          </>
        )}
      </Loaded>
      <h2>Records in and out</h2>
      <p class="actions">
        <a class="button quiet" href="/setup/records">
          Bring old records in, or take records out
        </a>
      </p>
      <LogSafety />
      <h2>This device</h2>
      <Appearance />
    </Page>
  );
}

function FreshCulture() {
  return (
    <section id="fresh">
      <h2>Fresh culture</h2>
      <p class="prose">
        From a slope through propagation, or bought: each one that comes in starts a new line.
      </p>
      <p class="actions">
        <a class="button quiet" href="/yeast/new">
          Enter a fresh culture
        </a>
      </p>
    </section>
  );
}
