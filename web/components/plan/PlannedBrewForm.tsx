import { dayMs } from '#shared/durations.ts';
import type { Recorded } from '#shared/views/recorded.ts';
import type { Setup } from '#shared/views/setup.ts';
import { localDay } from '../../format.ts';
import { atItsSite, siteOfBrew, sites } from '../../sites.ts';
import { Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import { day, gravityField, note, select, text, volume } from '../form/fields.ts';
import { siteField, siteStart } from '../form/siteField.ts';
import { startFrom } from '../form/startFrom.ts';
import { useForm } from '../form/useForm.ts';

const named = (records: readonly { id: string; name: string }[]) =>
  records.map(({ id, name }) => ({ value: id, label: name }));

type Props = { setup: Setup; brew?: Recorded<'plannedBrew'>; onSaved: () => void };

export function PlannedBrewForm({ setup, brew, onSaved }: Props) {
  const fields = {
    onDay: day({ label: 'Brew day' }),
    beer: text({ label: 'Beer' }),
    volumeL: volume({ label: 'Volume to collect' }),
    originalGravitySg: gravityField({ label: 'Original gravity' }),
    strainId: select({ label: 'Strain', options: named(setup.strains) }),
    siteId: siteField(),
    vesselId: select({
      label: 'FV',
      optional: true,
      options: setup.vessels.map(({ id, name, siteId }) => ({
        value: id,
        label: atItsSite(name, siteId),
      })),
    }),
    note: note(),
  };
  const [onlyStrain, ...others] = setup.strains;
  const form = useForm({
    key: brew === undefined ? 'planned' : `planned.${brew.entryId}`,
    fields,
    start:
      brew === undefined
        ? {
            onDay: localDay(new Date(Date.now() + dayMs)),
            strainId: others.length === 0 ? onlyStrain?.id : undefined,
            siteId: siteStart(),
          }
        : { ...startFrom(fields, brew), siteId: siteStart({ siteId: siteOfBrew(brew, setup) }) },
    entry: (values) => ({ kind: 'plannedBrew', ...values }),
    corrects: brew,
    onSaved,
  });
  return (
    <Form form={form} save={brew ? 'Save the change' : 'Save the brew'} when={false}>
      <Field form={form} name="onDay" />
      <Field form={form} name="beer" />
      <Field form={form} name="volumeL" />
      <Field form={form} name="originalGravitySg" />
      <Field form={form} name="strainId" />
      {sites.value.length > 0 && <Field form={form} name="siteId" />}
      <Field form={form} name="vesselId" />
      <Field form={form} name="note" />
    </Form>
  );
}
