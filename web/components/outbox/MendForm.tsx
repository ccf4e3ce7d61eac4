import type { Entry } from '#shared/entries/entry.ts';
import { clockError, isClockOff } from '#shared/entryTiming.ts';
import { localStamp, moment } from '../../format.ts';
import { freshId } from '../../outbox/freshId.ts';
import { fieldAt, furtherFields, mended, mendFields, mendStart } from '../../outbox/mendFields.ts';
import { enqueue, takeOut } from '../../outbox/queue.ts';
import { sendNow } from '../../outbox/sendingTimes.ts';
import type { WaitingEntry } from '../../outbox/waitingEntry.ts';
import { BothVersions } from '../form/BothVersions.tsx';
import { Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import { arrivedUnheard } from '../form/formEntries.ts';
import { useForm } from '../form/useForm.ts';

type Props = { item: WaitingEntry; onDone: (said: string) => void };

/** An entry that waits, open to be put right before it goes. */
export function MendForm({ item, onDone }: Props) {
  const { id, entry, problem } = item;
  const asked = mendFields(entry, problem);
  const further = furtherFields(entry, asked);
  const fields = { ...asked, ...further };
  const form = useForm({
    key: `mend.${id}`,
    fields,
    start: mendStart(entry),
    mends: { id, happenedAt: entry.happenedAt, by: entry.by },
    entry: (values) => mended(entry, values),
    fieldAt: (path) => fieldAt(path, fields),
    onSaved: ([saved]) => onDone(saved?.waits ? 'Changed; it waits.' : 'Sent.'),
  });
  return (
    <>
      <AlreadyThere item={item} onDone={onDone} />
      <Form form={form} save="Save and send">
        <ClockSet item={item} onSet={(stamp) => form.set('whenText', stamp)} />
        {Object.keys(asked).map((name) => (
          <Field key={name} form={form} name={name} />
        ))}
        {Object.keys(further).length > 0 && (
          <details class="more">
            <summary>What was left out</summary>
            {Object.keys(further).map((name) => (
              <Field key={name} form={form} name={name} />
            ))}
          </details>
        )}
      </Form>
    </>
  );
}

/** An entry made while the clock was off, put to the right time in one tap. */
function ClockSet({ item, onSet }: { item: WaitingEntry; onSet: (stamp: string) => void }) {
  const { clockFastMs, entry } = item;
  if (!isClockOff(clockFastMs)) return null;
  const right = new Date(Date.parse(entry.happenedAt) - clockFastMs);
  return (
    <p class="warning">
      This device’s clock was {clockError(clockFastMs)}.{' '}
      <button type="button" class="link" onClick={() => onSet(localStamp(right))}>
        Put its time to {moment(right.toISOString())}
      </button>
    </p>
  );
}

/** The log holds other facts in its place: an answer was lost, or someone else was first. */
function AlreadyThere({ item, onDone }: Props) {
  const now = item.problem?.current;
  if (now === undefined) return null;
  const leave = async () => {
    await takeOut([item.id]);
    onDone('The log stays as it is.');
  };
  const correct = async () => {
    const entry: Entry = { reason: arrivedUnheard, ...item.entry, supersedes: now.id };
    await enqueue([{ id: freshId(), entry }]);
    await takeOut([item.id]);
    void sendNow();
    onDone('Sent as a correction of what the log holds.');
  };
  return (
    <BothVersions
      mine={item}
      now={now}
      onKeep={() => void leave()}
      onCorrect={() => void correct()}
    />
  );
}
