import { CHAMBER_CV, PIPETTING_CV } from '#shared/science/countSetup.ts';
import type { Setup } from '#shared/views/setup.ts';
import * as words from '#shared/words.ts';
import { Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import { choice, decimal, plainOptions, text } from '../form/fields.ts';
import { startFrom } from '../form/startFrom.ts';
import { timeZone } from '../form/timeZoneField.ts';
import { useForm } from '../form/useForm.ts';
import { Why } from '../frame/Why.tsx';

const asWritten = <const T extends string>(values: readonly T[]) =>
  values.map((value) => ({ value, label: value }));

const fields = {
  name: text({ label: 'Name of the brewery' }),
  timeZone: timeZone({
    label: 'Time zone',
    hint: 'Type a city and choose from the list. It decides when a brew day begins.',
  }),
  firstGeneration: choice({
    label: 'A fresh culture counts as',
    hint: 'Only how it is shown; the number of times pitched is kept either way.',
    options: [
      { value: '0', label: 'Generation 0' },
      { value: '1', label: 'Generation 1' },
    ],
  }),
  volumeUnit: choice({ label: 'Beer and wort in', options: asWritten(words.volumeUnits) }),
  massUnit: choice({ label: 'Weights in', options: asWritten(words.massUnits) }),
  gravityUnit: choice({
    label: 'Gravity in',
    options: [
      { value: 'SG', label: 'SG, written 1040' },
      { value: '°P', label: '°P' },
    ],
  }),
  temperatureUnit: choice({
    label: 'Temperature in',
    options: asWritten(words.temperatureUnits),
  }),
  budRule: choice({
    label: 'A bud counts as a cell of its own when it is',
    hint: 'Whichever is chosen, keep to it: only then do counts compare.',
    options: plainOptions(words.budRules),
  }),
  edgeRule: choice({
    label: 'Cells lying on the lines of a square',
    hint: 'Two sides count in, the other two out.',
    options: plainOptions(words.edgeRules),
  }),
  chamberCvPercent: decimal({
    label: 'Spread of chamber filling',
    unit: '%',
    unitWords: 'per cent',
    hint: 'How far one filling of the slide differs from the next. From memory: Berkson and others 1939.',
  }),
  pipettingCvPercent: decimal({
    label: 'Spread of a pipetting step',
    unit: '%',
    unitWords: 'per cent',
    hint: 'From memory: Berkson and others 1939. Better measured with your own pipettes.',
  }),
};

const preset = () => ({
  timeZone: Intl.DateTimeFormat().resolvedOptions().timeZone,
  firstGeneration: '0',
  volumeUnit: 'L',
  massUnit: 'kg',
  gravityUnit: 'SG',
  temperatureUnit: '°C',
  budRule: words.budRules[0],
  edgeRule: words.edgeRules[0],
  chamberCvPercent: String(100 * CHAMBER_CV),
  pipettingCvPercent: String(100 * PIPETTING_CV),
});

type Props = { brewery: Setup['brewery']; onSaved: () => void };

export function BreweryForm({ brewery, onSaved }: Props) {
  const form = useForm({
    key: brewery === null ? 'brewery' : `brewery.${brewery.entryId}`,
    fields,
    start:
      brewery === null
        ? preset()
        : { ...startFrom(fields, brewery), firstGeneration: String(brewery.firstGeneration) },
    entry: ({ firstGeneration, ...rest }) => ({
      kind: 'brewery',
      ...rest,
      firstGeneration: firstGeneration === '1' ? 1 : 0,
    }),
    corrects: brewery ?? undefined,
    onSaved,
  });
  return (
    <Form form={form} save={brewery === null ? 'Save the brewery' : 'Save the change'} when={false}>
      <Field form={form} name="name" />
      <div class="pairs">
        <Field form={form} name="volumeUnit" />
        <Field form={form} name="gravityUnit" />
        <Field form={form} name="massUnit" />
        <Field form={form} name="temperatureUnit" />
      </div>
      <Field form={form} name="firstGeneration" />
      <Field form={form} name="timeZone" />
      <Why title="How cells are counted here" open={brewery !== null}>
        <Field form={form} name="budRule" />
        <Field form={form} name="edgeRule" />
        <Field form={form} name="chamberCvPercent" />
        <Field form={form} name="pipettingCvPercent" />
      </Why>
    </Form>
  );
}
