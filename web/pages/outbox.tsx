import { Page } from '../components/frame/Page.tsx';
import { useLoad } from '../components/frame/useLoad.ts';
import { OutboxItem } from '../components/outbox/OutboxItem.tsx';
import { moment } from '../format.ts';
import { lastSentMs } from '../outbox/lastSent.ts';
import { waiting } from '../outbox/queue.ts';
import { fetchRecordNames, type RecordNames } from '../outbox/recordNames.ts';
import { isKeptForGood, sendNow } from '../outbox/sendingTimes.ts';
import { isOld, type WaitingEntry } from '../outbox/waitingEntry.ts';
import '../styles/sheets.css';

/** What waits on this device to be sent: to see, to mend, to save as a file, to remove. */
export function Outbox() {
  const items = waiting.value;
  const names = useLoad(fetchRecordNames, [items.length]);
  return (
    <Page title="Waiting to be sent" lead="Entries kept on this device until the log has them.">
      {items.length === 0 ? (
        <p class="empty">Nothing waits: the log has everything that was entered here.</p>
      ) : (
        <>
          <Oldest items={items} />
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
              <OutboxItem key={item.id} item={item} names={names.data ?? none} />
            ))}
          </ul>
        </>
      )}
      <LastSent />
      <HowItWaits />
    </Page>
  );
}

const none: RecordNames = new Map();

function Oldest({ items: [oldest] }: { items: readonly WaitingEntry[] }) {
  if (oldest === undefined || !isOld(oldest, Date.now())) return null;
  return (
    <p class="warning">
      The oldest has waited since {moment(new Date(oldest.madeMs).toISOString())}.{' '}
      {isKeptForGood.value === true
        ? 'Send these soon, or save a copy.'
        : 'A browser may clear what a page has kept for long: send these soon, or save a copy.'}
    </p>
  );
}

function LastSent() {
  const { value } = lastSentMs;
  return (
    <p>
      {value === null
        ? 'Nothing was sent from this device so far.'
        : `Last sent from this device: ${moment(new Date(value).toISOString())}.`}
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
        however often it has to be sent. Those that rest on an earlier one go after it, and each
        goes under the name of whoever entered it: it waits until that person signs in here.
      </p>
      <p>{keptWords(isKeptForGood.value)}</p>
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

const keptWords = (isForGood: boolean | undefined) =>
  isForGood === true
    ? 'This browser has promised not to clear what waits when space runs short.'
    : 'This browser has not promised to keep what waits when space runs short, or when it was not used for long. Put Barmbook on the home screen where you can, and send soon.';

/** A copy for safety: each entry in it can be put to /api/entries/{id} as it stands. */
function saveCopy(): void {
  const savedAt = new Date().toISOString();
  const text = JSON.stringify(
    { about: 'Entries of Barmbook that waited on a device', savedAt, waiting: waiting.value },
    null,
    2,
  );
  const address = URL.createObjectURL(new Blob([text], { type: 'application/json' }));
  const link = document.createElement('a');
  link.href = address;
  link.download = `barmbook-waiting-${savedAt.slice(0, 10)}.json`;
  link.click();
  URL.revokeObjectURL(address);
}
