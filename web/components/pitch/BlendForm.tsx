import { amount, cellsPer, cellsRange, percent, percentRange } from '../../format.ts';
import { Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import { Figure } from '../frame/Figure.tsx';
import { Why } from '../frame/Why.tsx';
import { LotPicker } from '../lots/LotPicker.tsx';
import { blendCautions, blendSum, type Portion } from './blendSum.ts';
import { lotsFor } from './pitchWort.ts';
import { type BlendStart, isAnyHeld, useBlendForm, useName } from './useBlendForm.ts';

/** Which lots, how much of each, and what they make together. */
export function BlendForm(props: BlendStart) {
  const { form, portions, allThatIsLeft } = useBlendForm(props);
  const { strain, siteId } = portions[0]?.lot ?? {};
  return (
    <Form writes="blend" form={form} save="Record the blend">
      <div class="beside">
        <div>
          <LotPicker form={form} lots={lotsFor({ siteId }, props.lots)} strain={strain} />
          {portions.map(({ lot, use }) => (
            <Field
              key={lot.id}
              form={form}
              name={useName(lot)}
              beside={
                use === undefined && (
                  <button
                    type="button"
                    class="button quiet"
                    onClick={() => form.set(useName(lot), allThatIsLeft(lot))}
                  >
                    All that is left: {amount(lot.left, lot.unit)}
                    <span class="unseen"> of {lot.code}</span>
                  </button>
                )
              }
            />
          ))}
          {isAnyHeld(portions) && <Field form={form} name="override" />}
          <div class="pair">
            <Field form={form} name="container" />
            <Field form={form} name="place" />
          </div>
          <Field form={form} name="note" />
        </div>
        <BlendResult portions={portions} />
      </div>
    </Form>
  );
}

function BlendResult({ portions }: { portions: readonly Portion[] }) {
  const sum = blendSum(portions);
  return (
    <section class="result" aria-label="What the blend holds">
      {sum.kind === 'waiting' ? (
        <p class="waiting">{sum.lacking}</p>
      ) : (
        <>
          <Figure label="Blend" value={amount(sum.blend.amount, sum.blend.unit)} size="huge" />
          <Figure
            label="Cells, dead and alive"
            value={cellsPer(sum.blend.cellsPer.value, sum.blend.unit === 'L' ? 'mL' : 'g')}
            range={cellsRange(sum.blend.cellsPer, sum.blend.unit === 'L' ? 'mL' : 'g')}
          />
          <Figure label="Alive now, predicted" {...aliveFigure(sum.blend)} />
          {sum.guessed.length > 0 && (
            <p class="warning">
              {sum.guessed.join(', ')}: not counted or not stained, so guesses stand in.
            </p>
          )}
          <p>Count and stain the blend itself before it is pitched: these figures are reckoned.</p>
          <Why title="How it is worked out">
            <p>
              Cells: what each lot brings, over the amounts together. Alive: the share of each lot,
              predicted for now, weighted by the cells it brings. Ranges of 95 %, the errors of the
              lots taken as independent (derived).
            </p>
          </Why>
        </>
      )}
      {portions.length > 1 && (
        <div class="warning">
          {blendCautions(portions).map((caution) => (
            <p key={caution}>{caution}</p>
          ))}
        </div>
      )}
    </section>
  );
}

type Blended = Extract<ReturnType<typeof blendSum>, { kind: 'worked out' }>['blend'];

function aliveFigure({ viability: { value, low, high }, viabilityAtMost }: Blended) {
  const shown = percent(100 * value, 1);
  return viabilityAtMost
    ? { value: `${shown} or worse`, range: `${percent(100 * high, 1)} at the very most` }
    : { value: shown, range: percentRange({ low: 100 * low, high: 100 * high }) };
}
