import { Opens } from '../components/frame/Opens.tsx';
import { Page } from '../components/frame/Page.tsx';
import { DeviceTokens } from '../components/people/DeviceTokens.tsx';
import { Everyone } from '../components/people/Everyone.tsx';
import { OwnAccount } from '../components/people/OwnAccount.tsx';
import { ProofDialog } from '../components/people/ProofDialog.tsx';
import { SecurityEvents } from '../components/people/SecurityEvents.tsx';
import { signedIn } from '../signedIn.ts';
import '../styles/sheets.css';
import '../styles/people.css';

/** One's own account; for a head brewer also everyone's, the sensors', and what happened. */
export function People() {
  const isHead = signedIn.value?.roles.includes('head') === true;
  return (
    <Page title={isHead ? 'People' : 'Account'}>
      <ProofDialog />
      {isHead && (
        <>
          <Everyone />
          <DeviceTokens />
          <section class="not-printed">
            <h2>At the door</h2>
            <Opens label="Show who signed in and what was changed">
              {() => <SecurityEvents />}
            </Opens>
          </section>
        </>
      )}
      <OwnAccount />
    </Page>
  );
}
