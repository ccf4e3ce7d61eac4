import { DeviceTokens } from '../components/DeviceTokens.tsx';
import { Everyone } from '../components/Everyone.tsx';
import { Opens } from '../components/Opens.tsx';
import { OwnAccount } from '../components/OwnAccount.tsx';
import { Page } from '../components/Page.tsx';
import { ProofDialog } from '../components/ProofDialog.tsx';
import { SecurityEvents } from '../components/SecurityEvents.tsx';
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
          <section>
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
