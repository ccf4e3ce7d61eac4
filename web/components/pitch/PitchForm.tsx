import { useState } from 'preact/hooks';
import type { LotStanding } from '#shared/views/lots.ts';
import type { Saved } from '../../apiClient.ts';
import { amount, amountFigure, rate } from '../../format.ts';
import { Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import { Caution } from '../frame/Caution.tsx';
import { LotPicker } from '../lots/LotPicker.tsx';
import { collectHref } from '../plan/collectHref.ts';
import { PitchBias } from './PitchBias.tsx';
import { PitchResult } from './PitchResult.tsx';
import { PlannedSheet } from './PlannedSheet.tsx';
import { lotsFor, type Wort, type WortSources, wortInWords } from './pitchWort.ts';
import { densityName, type PitchState, spunName, useName, usePitchForm } from './usePitchForm.ts';

type Props = {
  sources: WortSources;
  lots: readonly LotStanding[];
  start: { lot?: string | undefined; ferment?: string | undefined };
  onSaved: (saved: Saved[], wort: Wort) => void;
};

/** The wort, the yeast, how much of it, and what was really put in. */
export function PitchForm({ sources, lots, start, onSaved }: Props) {
  const state = usePitchForm({ sources, lots, start }, onSaved);
  const { form, wort, chosen, objections, sum } = state;
  const [isSheet, setSheet] = useState(false);
  const canRecord = wort.ferment !== undefined && chosen.length > 0;
  if (isSheet && sum.kind === 'worked out')
    return (
      <PlannedSheet wort={wort} sum={sum} objections={objections} onLeave={() => setSheet(false)} />
    );
  return (
    <Form
      writes="pitch"
      form={form}
      save={canRecord ? `Record it in gyle ${wort.ferment?.record.gyle}` : undefined}
    >
      <div class="beside">
        <div>
          <WortFields state={state} />
          <LotPicker form={form} lots={lotsFor(wort, lots)} strain={wort.strain} />
          {chosen.filter(isUncounted(state)).map((lot) => (
            <div key={lot.id}>
              <Field form={form} name={densityName(lot)} />
              {form.typed[densityName(lot)] === 'spun' && (
                <Field form={form} name={spunName(lot)} />
              )}
            </div>
          ))}
          {chosen.map((lot) => (
            <PitchBias key={lot.id} form={form} lot={lot} />
          ))}
        </div>
        <div>
          <PitchResult sum={sum} />
          {sum.kind === 'worked out' && (
            <p>
              <button type="button" class="button quiet" onClick={() => setSheet(true)}>
                Sheet for the vessel
              </button>
            </p>
          )}
        </div>
      </div>
      {chosen.length > 0 && (
        <section>
          <h2>What was put in</h2>
          {wort.ferment === undefined && (
            <p class="prose">
              Type an amount to see what rate it comes to. To record it, the wort must be a gyle:{' '}
              <a href={collectHref(plannedWort({ form, sources })?.id)}>collect it</a> first.
            </p>
          )}
          {chosen.map((lot) => (
            <Field
              key={lot.id}
              form={form}
              name={useName(lot)}
              beside={<Suggested state={state} lot={lot} />}
            />
          ))}
          <Reached state={state} />
          {wort.ferment !== undefined && (
            <>
              {objections.length > 0 && <Objections said={objections} state={state} />}
              <Field form={form} name="note" />
              <Caution title="Gas lies over the wort">
                <p>
                  Carbon dioxide fills an FV and the floor round it unseen. Check the air first;
                  never lean in, and never alone.
                </p>
              </Caution>
            </>
          )}
        </section>
      )}
    </Form>
  );
}

function WortFields({ state: { form, wort } }: { state: PitchState }) {
  const house = wort.strain?.rateMillionPerMlPerPlato;
  return (
    <>
      <Field form={form} name="wort" />
      {form.typed.wort === 'typed' ? (
        <>
          <Field form={form} name="volumeL" />
          <Field form={form} name="gravitySg" />
          <Field form={form} name="strainId" />
        </>
      ) : (
        <p class="wort">{wortInWords(wort)}</p>
      )}
      <Field form={form} name="rate" />
      {house !== undefined && (
        <p class="below-field">Left blank: the strain’s own, {rate(house)}.</p>
      )}
    </>
  );
}

const isUncounted =
  ({ sum }: PitchState) =>
  (lot: LotStanding) =>
    sum.kind === 'worked out' &&
    sum.lots.some(({ standing, density }) => standing.id === lot.id && !density.counted);

const plannedWort = ({ form, sources }: Pick<PitchState, 'form'> & { sources: WortSources }) =>
  sources.plannedBrews.find(({ id }) => id === form.typed.wort);

/** One tap writes the amount worked out into the field. */
function Suggested({ state, lot }: { state: PitchState; lot: LotStanding }) {
  if (state.sum.kind !== 'worked out') return null;
  const part = state.sum.plan.lots.find(({ id }) => id === lot.code);
  const isTyped = (state.form.typed[useName(lot)] ?? '').trim() !== '';
  if (part === undefined || part.amount === 0 || isTyped) return null;
  return (
    <button
      type="button"
      class="button quiet"
      onClick={() =>
        state.form.set(useName(lot), amountFigure(part.amount, lot.unit).replace(/,/g, ''))
      }
    >
      As worked out: {amount(part.amount, lot.unit)}
      <span class="unseen"> of {lot.code}</span>
    </button>
  );
}

function Reached({ state: { sum } }: { state: PitchState }) {
  if (sum.kind !== 'worked out' || sum.actual === undefined) return null;
  const { rateMillionPerMlPerPlato, low, high, atMost } = sum.actual;
  const range = atMost
    ? `${high.toFixed(2)} at the most`
    : `${low.toFixed(2)} to ${high.toFixed(2)}`;
  return (
    <p class="reached" role="status">
      That comes to{' '}
      <strong>
        {rate(rateMillionPerMlPerPlato)}
        {atMost && ' or less'}
      </strong>{' '}
      ({range}), against {rate(sum.targetRate)} wanted.
    </p>
  );
}

function Objections({ said, state }: { said: readonly string[]; state: PitchState }) {
  return (
    <>
      <div class="warning">
        {said.map((sentence) => (
          <p key={sentence}>{sentence}.</p>
        ))}
      </div>
      <Field form={state.form} name="override" />
    </>
  );
}
