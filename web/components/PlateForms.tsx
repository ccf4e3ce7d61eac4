import type { EntryOf } from '#shared/entries/entry.ts';
import type { LotStanding } from '#shared/views.ts';
import { localDay } from '../format.ts';
import { Field } from './Field.tsx';
import { Form } from './Form.tsx';
import { choice, day, decimal, note, select, text, whole } from './fields.ts';
import type { Standing } from './standingEntries.ts';
import { startFrom } from './startFrom.ts';
import { useForm } from './useForm.ts';

const dayMs = 86_400_000;
/** Most media are read after three to five days; the book of the medium decides. */
const usualDays = 4;

const plateFields = {
  medium: text({
    label: 'Medium',
    suggestions: ['WLN', 'WLD', 'UBA', 'Raka-Ray', 'MRS', 'HLP', 'Lysine agar', 'Copper agar'],
  }),
  looksFor: text({
    label: 'What it looks for',
    suggestions: ['Lactic acid bacteria', 'Wild yeast', 'All bacteria', 'Petites', 'STA1'],
  }),
  cellsPlated: decimal({
    label: 'Cells plated',
    unit: 'million',
    unitWords: 'millions',
    optional: true,
    hint: 'An empty plate shows less than 3 in the cells plated: 1 million cannot show less than 3 per million.',
  }),
  dueDay: day({ label: 'To be read on' }),
  note: note(),
};

type PlateProps = {
  lot: LotStanding;
  done?: Standing<EntryOf<'microCheck'>> | undefined;
  onSaved: () => void;
};

export function PlateForm({ lot, done, onSaved }: PlateProps) {
  const due = done === undefined ? Date.now() + usualDays * dayMs : Date.parse(done.body.dueAt);
  const plated = done?.body.cellsPlated;
  const form = useForm({
    key: `plate.${done?.entryId ?? lot.id}`,
    fields: plateFields,
    start: {
      ...(done && startFrom(plateFields, done.body)),
      cellsPlated: plated === undefined ? '' : plateFields.cellsPlated.show(plated / 1e6),
      dueDay: localDay(new Date(due)),
    },
    entry: ({ dueDay, cellsPlated, ...rest }) => ({
      kind: 'microCheck',
      lotId: lot.id,
      ...rest,
      cellsPlated: cellsPlated === undefined ? undefined : cellsPlated * 1e6,
      dueAt: dueDay === undefined ? undefined : new Date(`${dueDay}T09:00`).toISOString(),
    }),
    fieldAt: (path) => (path === 'dueAt' ? 'dueDay' : undefined),
    corrects: done,
    onSaved,
  });
  return (
    <Form form={form} save="Write the plate down">
      <p class="field-hint">
        Until it is read, the lot is on hold; it can be released for a reason.
      </p>
      <Field form={form} name="medium" />
      <Field form={form} name="looksFor" />
      <Field form={form} name="cellsPlated" />
      <Field form={form} name="dueDay" />
      <Field form={form} name="note" />
    </Form>
  );
}

type ResultProps = {
  lot: LotStanding;
  done?: Standing<EntryOf<'microResult'>> | undefined;
  onSaved: () => void;
};

export function PlateResultForm({ lot, done, onSaved }: ResultProps) {
  const pending = lot.pendingChecks.map(({ id, medium }) => ({ value: id, label: medium }));
  const known = done === undefined ? pending : [{ value: done.body.checkId, label: 'This plate' }];
  const fields = {
    checkId: select({ label: 'Plate', options: known }),
    outcome: choice({
      label: 'What was found?',
      options: [
        { value: 'clear', label: 'Clear' },
        { value: 'found', label: 'Something grew' },
        { value: 'discard', label: 'Over the limit: throw it away' },
      ],
    }),
    colonies: whole({
      label: 'Colonies',
      hint: 'What was looked for: contaminants, or petites. None is 0.',
      optional: true,
    }),
    ofColonies: whole({
      label: 'Of colonies looked at',
      hint: 'For a share, such as petites; 300 or more tell 1 % from none.',
      optional: true,
    }),
    note: note(),
  };
  const form = useForm({
    key: `result.${done?.entryId ?? lot.id}`,
    fields,
    start: done === undefined ? { checkId: known[0]?.value } : startFrom(fields, done.body),
    entry: (values) => ({ kind: 'microResult', ...values }),
    corrects: done,
    onSaved,
  });
  return (
    <Form form={form} save="Save the result">
      {known.length > 1 && <Field form={form} name="checkId" />}
      {known.length === 1 && done === undefined && <p class="field-hint">{known[0]?.label}</p>}
      <Field form={form} name="outcome" />
      <div class="pair">
        <Field form={form} name="colonies" />
        <Field form={form} name="ofColonies" />
      </div>
      <Field form={form} name="note" />
    </Form>
  );
}
