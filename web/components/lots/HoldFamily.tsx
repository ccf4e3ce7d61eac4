import type { Trace } from '#shared/lineage/trace.ts';
import type { FamilyHoldView } from '#shared/lineage/traceEvidence.ts';
import { moment } from '../../format.ts';
import { StrikeOut } from '../form/Amend.tsx';
import { Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import { text } from '../form/fields.ts';
import { useForm } from '../form/useForm.ts';
import { announce } from '../frame/Notice.tsx';
import { Opens } from '../frame/Opens.tsx';
import { Tag } from '../frame/Status.tsx';
import { type Held, heldWords, startingReason } from './holdWords.ts';

type Props = { trace: Trace; onDone: () => void };

/** One step holds what is in store and marks ferments and casks; one step lets all of it go. */
export function HoldFamily({ trace, onDone }: Props) {
  const what = heldWords(trace);
  const saved = (close: () => void, said: string) => () => {
    announce(said);
    close();
    onDone();
  };
  return (
    <section class={trace.holds.length === 0 ? 'not-printed' : undefined}>
      <h2>Hold</h2>
      {trace.holds.map((hold) => (
        <FamilyHold key={hold.id} hold={hold} saved={saved} />
      ))}
      {what === undefined ? (
        <p>Casks hold no yeast to pitch: hold it from the gyle they were racked from.</p>
      ) : (
        <Opens
          label={`Hold ${trace.of.label} and all that comes from it`}
          quiet={trace.holds.some(({ released }) => released === null)}
        >
          {(close) => (
            <FamilyHoldForm
              what={what}
              reason={startingReason(trace)}
              onSaved={saved(close, 'The family is on hold.')}
            />
          )}
        </Opens>
      )}
    </section>
  );
}

const holdFields = {
  why: text({ label: 'Why must it wait?', hint: 'It is shown on every lot, ferment and cask.' }),
};

type HoldProps = { what: Held; reason: string; onSaved: () => void };

function FamilyHoldForm({ what, reason, onSaved }: HoldProps) {
  const { lotId, fermentId } = what;
  const form = useForm({
    key: `familyHold.${lotId ?? fermentId}`,
    fields: holdFields,
    start: { why: reason },
    entry: ({ why }) => ({ kind: 'familyHold', lotId, fermentId, why }),
    onSaved,
  });
  return (
    <Form form={form} save="Put the family on hold">
      <p class="field-hint">{what.words}</p>
      <Field form={form} name="why" />
    </Form>
  );
}

type Saved = (close: () => void, said: string) => () => void;

function FamilyHold({ hold, saved }: { hold: FamilyHoldView; saved: Saved }) {
  const { id, entryId, why, at, by, lots, ferments, released } = hold;
  return (
    <article class="family-hold">
      <p>
        <Tag tone={released === null ? 'stop' : 'plain'}>
          {released === null ? 'on hold' : 'released'}
        </Tag>{' '}
        <strong>{why}</strong> {moment(at)}, by {by}: {lots} {lots === 1 ? 'lot' : 'lots'} held,{' '}
        {ferments} {ferments === 1 ? 'ferment' : 'ferments'} and their casks marked.
        {released !== null &&
          ` Released ${moment(released.at)}, by ${released.by}: ${released.why}`}
      </p>
      {released === null && (
        <div class="actions">
          <Opens label="Release all of it">
            {(close) => (
              <FamilyReleaseForm holdId={id} onSaved={saved(close, 'The family is released.')} />
            )}
          </Opens>
          <Opens label="Strike this hold out">
            {(close) => (
              <StrikeOut entryId={entryId} onDone={saved(close, 'The hold is struck out.')} />
            )}
          </Opens>
        </div>
      )}
    </article>
  );
}

const releaseFields = { why: text({ label: 'Why may it be pitched again?' }) };

function FamilyReleaseForm({ holdId, onSaved }: { holdId: string; onSaved: () => void }) {
  const form = useForm({
    key: `familyRelease.${holdId}`,
    fields: releaseFields,
    entry: ({ why }) => ({ kind: 'familyRelease', holdId, why }),
    onSaved,
  });
  return (
    <Form form={form} save="Release it">
      <Field form={form} name="why" />
    </Form>
  );
}
