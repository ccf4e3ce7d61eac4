import { Loaded } from '../components/frame/Loaded.tsx';
import { Page } from '../components/frame/Page.tsx';
import { useLoad } from '../components/frame/useLoad.ts';
import { Appearance } from '../components/setup/Appearance.tsx';
import { Brewery } from '../components/setup/Brewery.tsx';
import { LogSafety } from '../components/setup/LogSafety.tsx';
import { Media } from '../components/setup/Media.tsx';
import { NextStep } from '../components/setup/NextStep.tsx';
import { SetupLink } from '../components/setup/SetupPart.tsx';
import { Sites } from '../components/setup/Sites.tsx';
import { Strains } from '../components/setup/Strains.tsx';
import { Vessels } from '../components/setup/Vessels.tsx';
import { refreshSetup } from '../settings.ts';
import { signedIn } from '../signedIn.ts';
import '../styles/sheets.css';
import '../styles/setup.css';

/** A line for each part, which opens where it stands: nothing here is wanted every day. */
export function SetupPage() {
  const load = useLoad(refreshSetup);
  const isHead = signedIn.value?.roles.includes('head') === true;
  return (
    <Page
      title="Setup"
      lead="What the brewery is and what it ferments with. Open a line to see it."
    >
      <Loaded of={load}>
        {(setup) => (
          <>
            <NextStep setup={setup} />
            <Brewery brewery={setup.brewery} onChanged={load.reload} />
            {setup.brewery !== null && (
              <>
                <Strains strains={setup.strains} onChanged={load.reload} />
                <Vessels
                  vessels={setup.vessels}
                  isNext={setup.strains.length > 0 && setup.vessels.length === 0}
                  onChanged={load.reload}
                />
                <Media media={setup.media} onChanged={load.reload} />
                <Sites sites={setup.sites} homeId={setup.homeId} onChanged={load.reload} />
              </>
            )}
          </>
        )}
      </Loaded>
      {isHead && (
        <SetupLink href="/people" title="People and sensors" gist="accounts and roles; sensors" />
      )}
      <SetupLink
        href="/setup/records"
        title="Records in and out"
        gist="old records in; tables and the whole log out"
      />
      <LogSafety />
      <div class="not-printed">
        <Appearance />
      </div>
    </Page>
  );
}
