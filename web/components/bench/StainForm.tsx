import { useState } from 'preact/hooks';
import type { EntryOf } from '#shared/entries/entry.ts';
import { stainNames, stainOf } from '#shared/science/stains.ts';
import { setup } from '../../settings.ts';
import { Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import { note, plainOptions, select, whole } from '../form/fields.ts';
import { type Form as FormState, useForm } from '../form/useForm.ts';
import { Caution } from '../frame/Caution.tsx';
import type { LotInHand } from './CountForm.tsx';
import { CountingRules } from './CountingRules.tsx';
import { liveFigure } from './countFigures.ts';
import { StainResult } from './StainResult.tsx';
import { TallyPanel } from './TallyPanel.tsx';
import { keepOpenTally, keepSequence, keptSequence, openTally } from './tallyMemory.ts';

const fields = {
  stain: select({ label: 'Stain', options: plainOptions(stainNames) }),
  live: whole({ label: 'Live cells' }),
  dead: whole({ label: 'Dead cells' }),
  note: note(),
};

type StainFormOptions = {
  lot: LotInHand;
  stain: EntryOf<'stain'>['stain'] | undefined;
  corrects?: { entryId: string; happenedAt: string; stain: EntryOf<'stain'> };
  onSaved: (warnings: readonly string[]) => void;
};

/** The state of the stain form, apart from its looks, so that a tally of squares can fill it too. */
export function useStainForm({ lot, stain, corrects, onSaved }: StainFormOptions) {
  const corrected = corrects?.stain;
  return useForm({
    key: `stain.${corrects?.entryId ?? lot.id}`,
    fields,
    start:
      corrected === undefined
        ? { stain: stain ?? stainNames[0] }
        : {
            stain: corrected.stain,
            live: String(corrected.live),
            dead: String(corrected.dead),
            note: corrected.note,
          },
    entry: (values) => ({ kind: 'stain', lotId: lot.id, ...values }),
    onSaved: (saved) => onSaved(saved.flatMap(({ warnings }) => warnings)),
    corrects,
  });
}

type StainFormProps = {
  form: FormState<typeof fields>;
  lot: LotInHand;
  /** The least viability this strain is pitched at [%]. */
  limitPercent: number;
};

/** Live and dead cells of a stained sample, and the viability they show. */
export function StainForm({ form, lot, limitPercent }: StainFormProps) {
  const tallyName = `${form.key}.cells`;
  const [tallying, setTallying] = useState(() => openTally() === tallyName);
  const tally = (open: boolean) => {
    keepOpenTally(open ? tallyName : null);
    setTallying(open);
  };
  const { stain = 'other' } = form.values;
  const chosen = stainOf(stain);
  return (
    <>
      <Form
        writes="stain"
        form={form}
        save={form.correcting ? 'Save the correction' : 'Save the stain'}
      >
        <Caution title="Stains">
          <p>{chosen.caution}</p>
        </Caution>
        <CountingRules />
        <div class="beside">
          <div>
            <Field form={form} name="stain" />
            <p class="field-hint">{`${chosen.practice}.`}</p>
            <div class="pair">
              <Field form={form} name="live" />
              <Field form={form} name="dead" />
            </div>
            <p>
              <button type="button" class="button quiet" onClick={() => tally(true)}>
                {keptSequence(tallyName) === ''
                  ? 'Tally at the microscope'
                  : 'Go on with the tally'}
              </button>
            </p>
          </div>
          <div class="result">
            <StainResult
              live={form.values.live}
              dead={form.values.dead}
              stain={stain}
              limitPercent={limitPercent}
            />
          </div>
        </div>
        <Field form={form} name="note" />
      </Form>
      {tallying && (
        <TallyPanel
          count={tallyName}
          title={`${lot.code}: ${stain}`}
          budRule={setup.value?.brewery?.budRule ?? 'half the mother or larger'}
          figuresOf={liveFigure}
          onLeave={() => tally(false)}
          onUse={({ live, dead }) => {
            form.set('live', String(live));
            form.set('dead', String(dead));
            keepSequence(tallyName, '');
            tally(false);
          }}
        />
      )}
    </>
  );
}
