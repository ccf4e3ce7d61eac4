import { OutboxItem } from '../components/OutboxItem.tsx';
import { Page } from '../components/Page.tsx';
import { moment } from '../format.ts';
import { waiting } from '../outbox/queue.ts';
import { sendNow } from '../outbox/sendingTimes.ts';
import '../styles/sheets.css';

/** What waits on this device to be sent: to see, to mend, to save as a file, to remove. */
export function Outbox() {
  const items = waiting.value;
  return (
    <Page title="Waiting to be sent" lead="Entries kept on this device until the log has them.">
      {items.length === 0 ? (
        <p class="empty">Nothing waits: the log has everything that was entered here.</p>
      ) : (
        <>
          <Oldest madeMs={items[0]?.madeMs ?? 0} />
          <p class="actions">
            <button type="button" class="button" onClick={() => void sendNow()}>
              Send now
            </button>
            <button type="button" class="button quiet" onClick={saveCopy}>
              Save a copy as a file
            </button>
          </p>
          <ul class="outbox-items">
            {items.map((item) => (
              <OutboxItem key={item.id} item={item} />
            ))}
          </ul>
        </>
      )}
      <HowItWaits />
    </Page>
  );
}

const dayMs = 86_400_000;

function Oldest({ madeMs }: { madeMs: number }) {
  if (Date.now() - madeMs < dayMs) return null;
  return (
    <p class="warning">
      The oldest has waited since {moment(new Date(madeMs).toISOString())}. A browser may clear what
      a page has kept for long: send these soon, or save a copy.
    </p>
  );
}

function HowItWaits() {
  return (
    <section class="prose">
      <h2>How it waits</h2>
      <p>
        They are sent in the order they were made, by themselves, while a page of Barmbook is open.
        Closing the browser or switching the device off loses nothing. Each goes into the log once,
        however often it has to be sent. Those that rest on an earlier one go after it.
      </p>
      {!globalThis.isSecureContext && (
        <p class="warning">
          At this address, plain http, a browser keeps entries but not the pages themselves. With
          the network gone, stay on the open page; to open Barmbook anew without a network, use it
          by https.
        </p>
      )}
    </section>
  );
}

function saveCopy(): void {
  const text = JSON.stringify({ waiting: waiting.value }, null, 2);
  const address = URL.createObjectURL(new Blob([text], { type: 'application/json' }));
  const link = document.createElement('a');
  link.href = address;
  link.download = 'barmbook-waiting.json';
  link.click();
  URL.revokeObjectURL(address);
}
