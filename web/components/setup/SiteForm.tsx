import type { Recorded } from '#shared/views/recorded.ts';
import { Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import { text } from '../form/fields.ts';
import { startFrom } from '../form/startFrom.ts';
import { timeZone } from '../form/timeZoneField.ts';
import { useForm } from '../form/useForm.ts';

const name = (label: string, hint: string) => text({ label, hint });
const code = (label: string) =>
  text({
    label,
    capitals: true,
    hint: '1 to 4 letters; they stand behind the code of a lot that is sent there: TN-412A-W.',
  });

const fields = {
  name: name('Name of the site', 'As people call the place: Weir, the old dairy.'),
  code: code('Short code'),
  timeZone: timeZone({
    label: 'Time zone',
    optional: true,
    hint: 'Left blank, as the brewery; else type a city and choose from the list.',
  }),
};

type Props = { site?: Recorded<'site'>; onSaved: () => void };

export function SiteForm({ site, onSaved }: Props) {
  const form = useForm({
    key: site === undefined ? 'site' : `site.${site.entryId}`,
    fields,
    start: site === undefined ? {} : startFrom(fields, site),
    entry: (values) => ({ kind: 'site', ...values }),
    corrects: site,
    onSaved,
  });
  return (
    <Form form={form} save={site ? 'Save the change' : 'Save the site'} when={false}>
      <Field form={form} name="name" />
      <Field form={form} name="code" />
      <Field form={form} name="timeZone" />
    </Form>
  );
}

const firstFields = {
  homeName: name(
    'Where you brew now',
    'All that is in the book already belongs here: FVs, gyles, yeast.',
  ),
  homeCode: code('Short code of it'),
  name: name('The second site', 'It begins empty.'),
  code: code('Short code of the second'),
};

/** The first two sites at once: one alone would be no help to anybody. */
export function FirstSitesForm({ onSaved }: { onSaved: () => void }) {
  const form = useForm({
    key: 'sites',
    fields: firstFields,
    entry: ({ homeName, homeCode, name: second, code: secondCode }) => [
      { kind: 'site', name: homeName, code: homeCode },
      { kind: 'site', name: second, code: secondCode },
    ],
    alsoCheck: (values) =>
      (['name', 'code'] as const)
        .filter((key) => {
          const home = values[key === 'name' ? 'homeName' : 'homeCode'];
          return home !== undefined && home.toLowerCase() === values[key]?.toLowerCase();
        })
        .map((key) => ({ name: key, message: 'The first site has this already: give another' })),
    fieldAt: (path, index) => {
      if (index > 0) return undefined;
      return { name: 'homeName', code: 'homeCode' }[path];
    },
    onSaved,
  });
  return (
    <Form form={form} save="Save both sites" when={false}>
      <Field form={form} name="homeName" />
      <Field form={form} name="homeCode" />
      <Field form={form} name="name" />
      <Field form={form} name="code" />
    </Form>
  );
}
