import type { Setup } from '#shared/views/setup.ts';
import type { Saved } from '../../apiClient.ts';
import { firstGeneration } from '../../settings.ts';
import { sites } from '../../sites.ts';
import { Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import {
  amountEntry,
  amountIn,
  choice,
  note,
  select,
  text,
  whole,
  yeastEitherWay,
} from '../form/fields.ts';
import { siteField, siteStart } from '../form/siteField.ts';
import { useForm } from '../form/useForm.ts';
import { Caution } from '../frame/Caution.tsx';

const fieldsFor = ({ strains }: Setup) => ({
  strainId: select({
    label: 'Strain',
    options: strains.map(({ id, name }) => ({ value: id, label: name })),
  }),
  siteId: siteField(),
  origin: choice({
    label: 'Where it comes from',
    options: [
      { value: 'propagation', label: 'Propagated here' },
      { value: 'bought', label: 'Bought' },
      { value: 'slope', label: 'Slope' },
      { value: 'other', label: 'Elsewhere', hint: 'another brewery, or in use already' },
    ],
  }),
  supplier: text({ label: 'Supplier, or name of the slope', optional: true }),
  generation: whole({
    label: 'Generation',
    hint: 'A fresh culture is as it stands here. Raise it for yeast that has been pitched before.',
  }),
  amountIn: amountIn(),
  amount: yeastEitherWay({ label: 'Amount' }),
  container: text({ label: 'Container', optional: true }),
  place: text({ label: 'Place', optional: true, hint: 'Where it stands: cold room, fridge 2.' }),
  code: text({
    label: 'Lot code',
    capitals: true,
    optional: true,
    hint: 'Left blank, the book gives the next one.',
  }),
  note: note(),
});

type Props = { setup: Setup; onSaved: (saved: Saved) => void };

/** Yeast that comes into the brewery: the start of a line. */
export function FreshCultureForm({ setup, onSaved }: Props) {
  const first = firstGeneration.value;
  const [onlyStrain, ...others] = setup.strains;
  const form = useForm({
    key: 'fresh',
    fields: fieldsFor(setup),
    start: {
      strainId: others.length === 0 ? onlyStrain?.id : undefined,
      siteId: siteStart(),
      generation: String(first),
      amountIn: 'L',
    },
    entry: ({ amountIn: unit, amount, generation, ...rest }) => ({
      kind: 'freshCulture',
      ...rest,
      generation: generation === undefined ? undefined : generation - first,
      ...amountEntry(unit, amount),
    }),
    onSaved: ([saved]) => saved && onSaved(saved),
  });
  return (
    <Form writes="freshCulture" form={form} save="Write it down">
      <Field form={form} name="strainId" />
      {sites.value.length > 0 && <Field form={form} name="siteId" />}
      <Field form={form} name="origin" />
      <Field form={form} name="supplier" />
      <Field form={form} name="amountIn" />
      <Field form={form} name="amount" />
      <Field form={form} name="generation" />
      <div class="pairs">
        <Field form={form} name="container" />
        <Field form={form} name="place" />
      </div>
      <Field form={form} name="code" />
      <Field form={form} name="note" />
      <Caution title="Live yeast makes gas, even in the cold">
        <p>Never shut it in a tight container: leave a vent or ease the lid every day.</p>
      </Caution>
    </Form>
  );
}
