import { hourMs } from '#shared/durations.ts';
import { massUnit } from '#shared/tradeUnits.ts';
import type { FermentStanding } from '#shared/views/ferments.ts';
import type { Recorded } from '#shared/views/recorded.ts';
import { cuts } from '#shared/words.ts';
import type { Saved } from '../../apiClient.ts';
import { ago, amount } from '../../format.ts';
import { binCode } from '../../outbox/binCode.ts';
import { isReachable } from '../../outbox/keptAnswers.ts';
import { units } from '../../settings.ts';
import { Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import {
  amountEntry,
  amountIn,
  choice,
  gravityField,
  note,
  plainOptions,
  text,
  yeastEitherWay,
} from '../form/fields.ts';
import { StepperField } from '../form/StepperField.tsx';
import { useForm } from '../form/useForm.ts';
import { WordChoice } from '../form/WordChoice.tsx';
import { likelyCut, measureOf } from './cropDefaults.ts';

const looks = ['creamy', 'thick', 'thin', 'brown flecks', 'slack'];
const smells = ['fresh', 'fruity', 'sulphury', 'sour', 'solvent', 'foul'];
/** What a first crop may come to, for the size of a step alone: common practice, no source. */
const firstAmounts = { L: 20, kg: 10 };

type CropFormProps = {
  ferment: FermentStanding;
  lastCrop: Recorded<'crop'> | undefined;
  onSaved: (saved: Saved) => void;
};

/** A crop as it leaves the FV: everything likely is filled in already. */
export function CropForm({ ferment, lastCrop, onSaved }: CropFormProps) {
  const last = measureOf(lastCrop);
  const fields = fieldsFor(ferment);
  const form = useForm({
    key: `crop.${ferment.id}`,
    fields,
    start: {
      cut: likelyCut(ferment),
      amountIn: last.unit,
      gravitySg:
        ferment.latestGravitySg === null
          ? undefined
          : fields.gravitySg.show(ferment.latestGravitySg),
      place: last.place,
    },
    entry: ({ amount: cropped, amountIn: unit, code, ...values }) => ({
      kind: 'crop',
      fermentId: ferment.id,
      ...amountEntry(unit, cropped),
      ...values,
      // The bin needs its code now, also where the log cannot give one.
      code: code ?? (isAway() ? binCode(ferment) : undefined),
    }),
    onSaved: ([saved]) => saved !== undefined && onSaved(saved),
  });
  const unit = form.values.amountIn ?? 'L';
  const before = last.unit === unit ? last.amount : undefined;
  const usual = inShownUnit(before ?? firstAmounts[unit], unit);
  return (
    <div class="crop-sheet">
      <Form writes="crop" form={form} save="Save the crop">
        <div class="beside">
          <div>
            <StepperField
              form={form}
              name="amount"
              usual={usual}
              start={
                before === undefined
                  ? undefined
                  : { from: usual, name: `As last time: ${amount(before, unit)}` }
              }
            />
            <Field form={form} name="amountIn" />
            <Field form={form} name="cut" />
            <Field form={form} name="gravitySg" />
          </div>
          <div>
            <WordChoice form={form} name="look" words={looks} />
            <WordChoice form={form} name="smell" words={smells} />
            <details class="more">
              <summary>Bin, place, own code, note</summary>
              <div class="pair">
                <Field form={form} name="container" />
                <Field form={form} name="place" />
              </div>
              <Field form={form} name="code" />
              <Field form={form} name="note" />
            </details>
          </div>
        </div>
      </Form>
    </div>
  );
}

const isAway = () => isReachable.value === false || !navigator.onLine;

function fieldsFor(ferment: FermentStanding) {
  return {
    cut: choice({ label: 'Which cut', options: plainOptions(cuts) }),
    amountIn: amountIn(),
    amount: yeastEitherWay({ label: 'Amount' }),
    gravitySg: gravityField({
      label: 'Gravity at cropping',
      hint: gravityAge(ferment),
      optional: true,
    }),
    look: text({ label: 'Look', optional: true }),
    smell: text({ label: 'Smell', optional: true }),
    container: text({ label: 'Bin', optional: true }),
    place: text({ label: 'Place', optional: true }),
    code: text({
      label: 'Own lot code',
      hint: 'Left empty, the next free code is given.',
      capitals: true,
      optional: true,
    }),
    note: note(),
  };
}

function gravityAge({ readings }: FermentStanding): string | undefined {
  const last = readings.filter(({ gravitySg }) => gravitySg !== undefined).at(-1);
  if (last === undefined) return undefined;
  const hours = (Date.now() - Date.parse(last.happenedAt)) / hourMs;
  return `Filled in from the reading ${ago(hours)}; put in a new one if you took it.`;
}

const inShownUnit = (value: number, unit: 'L' | 'kg') =>
  unit === 'L' ? value : Math.round(massUnit[units.value.mass].fromStored(value) * 10) / 10;
