import { useState } from 'preact/hooks';
import { entryFacts, entryNames } from '../../entryWords.ts';
import { moment } from '../../format.ts';
import { author } from '../../outbox/author.ts';
import { sendAgain, takeOut, waiting } from '../../outbox/queue.ts';
import { namesIn, type RecordNames } from '../../outbox/recordNames.ts';
import { sendNow } from '../../outbox/sendingTimes.ts';
import { entriesAhead, isOurs, type WaitingEntry } from '../../outbox/waitingEntry.ts';
import { announce } from '../frame/Notice.tsx';
import { Tag } from '../frame/Status.tsx';
import { MendForm } from './MendForm.tsx';

/** One entry that waits: what it says, why it waits, and what can be done about it. */
export function OutboxItem({ item, names }: { item: WaitingEntry; names: RecordNames }) {
  const [open, setOpen] = useState<'change' | 'remove' | null>(null);
  const { entry, problem, page, authorName } = item;
  const about = namesIn(entry, names);
  const name = entryNames[entry.kind];
  const isOwn = isOurs(item, author.value);
  const again = async () => {
    await sendAgain(item.id);
    void sendNow();
  };
  return (
    <li class="outbox-item">
      <h2>
        {name} <State item={item} />
      </h2>
      <p>
        {about.length > 0 && <strong>{about.join(', ')}: </strong>}
        {entryFacts(entry)}
      </p>
      {entry.supersedes !== undefined && <p>In place of an earlier entry: {entry.reason}</p>}
      <p class="outbox-when">
        {moment(entry.happenedAt)}, by {entry.by}
        {entry.by !== authorName && `, entered by ${authorName}`}, on{' '}
        <a href={page.href}>{page.title}</a>
      </p>
      {problem !== undefined && <Refusal item={item} />}
      {open === null && (
        <p class="actions">
          {isOwn && (
            <button type="button" class="button quiet" onClick={() => setOpen('change')}>
              Change it<span class="unseen">: {name}</span>
            </button>
          )}
          {isOwn && problem !== undefined && (
            <button type="button" class="button quiet" onClick={() => void again()}>
              Send as it is<span class="unseen">: {name}</span>
            </button>
          )}
          <button type="button" class="link" onClick={() => setOpen('remove')}>
            Remove it<span class="unseen">: {name}</span>
          </button>
        </p>
      )}
      {open === 'change' && (
        <section class="opened" aria-label={`Change: ${name}`}>
          <MendForm
            item={item}
            onDone={(said) => {
              setOpen(null);
              announce(said);
            }}
          />
        </section>
      )}
      {open === 'remove' && <Removal item={item} />}
      {open !== null && (
        <p>
          <button type="button" class="link" onClick={() => setOpen(null)}>
            Leave it as it is
          </button>
        </p>
      )}
    </li>
  );
}

function State({ item }: { item: WaitingEntry }) {
  const ahead = entriesAhead(item, waiting.value);
  if (!isOurs(item, author.value))
    return <Tag tone="watch">{`waits for ${item.authorName} to sign in`}</Tag>;
  if (item.problem !== undefined) return <Tag tone="stop">to put right</Tag>;
  const [first] = ahead;
  if (first !== undefined)
    return <Tag tone="plain">{`after “${entryNames[first.entry.kind]}”`}</Tag>;
  return <Tag tone="plain">waiting</Tag>;
}

function Refusal({ item: { problem } }: { item: WaitingEntry }) {
  if (problem === undefined) return null;
  const further = problem.errors.filter(
    ({ message }) => message.replace(/\.$/, '') !== problem.detail.replace(/\.$/, ''),
  );
  return (
    <div class="warning">
      <p>
        {problem.title}: {problem.detail}
      </p>
      {further.map(({ path, message }) => (
        <p key={path}>{message}</p>
      ))}
    </div>
  );
}

function Removal({ item }: { item: WaitingEntry }) {
  const behind = waiting.value.filter((other) =>
    entriesAhead(other, waiting.value).some(({ id }) => id === item.id),
  ).length;
  return (
    <div class="warning">
      <p>
        {!isOurs(item, author.value) && `${item.authorName} entered it. `}It is nowhere else: once
        removed it is lost.
        {behind > 0 && ` ${behind} more rest on it and will be refused without it.`}
      </p>
      <p class="actions">
        <button type="button" class="button danger" onClick={() => void takeOut([item.id])}>
          Remove it for good
        </button>
      </p>
    </div>
  );
}
