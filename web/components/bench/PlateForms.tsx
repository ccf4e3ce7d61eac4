import type { EntryOf } from '#shared/entries/entry.ts';
import { type Medium, presetMedia } from '#shared/micro/media.ts';
import type { LotStanding, PlateStanding } from '#shared/views/lots.ts';
import type { Saved } from '../../apiClient.ts';
import { fixed, localDay, day as shownDay, temperature } from '../../format.ts';
import { setup } from '../../settings.ts';
import { Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import { choice, note, select, whole } from '../form/fields.ts';
import type { Standing } from '../form/standingEntries.ts';
import { startFrom } from '../form/startFrom.ts';
import { useForm } from '../form/useForm.ts';
import { otherMedium, plateChosen, plateFields, unread } from './plateFields.ts';
import { plateSays } from './plateSays.ts';

type PlateProps = {
  lot: LotStanding;
  done?: Standing<EntryOf<'microCheck'>> | undefined;
  onSaved: (saved: Saved[]) => void;
};

export function PlateForm({ lot, done, onSaved }: PlateProps) {
  const media = setup.value?.media ?? presetMedia;
  const fields = plateFields(media);
  const now = new Date();
  const plated = done?.body.cellsPlated;
  const form = useForm({
    key: `plate.${done?.entryId ?? lot.id}`,
    fields,
    start: {
      purpose: 'routine',
      ...(done && startFrom(fields, done.body)),
      ...(done && startMedium(media, done.body.medium)),
      cellsPlated: plated === undefined ? '' : fields.cellsPlated.show(plated / 1e6),
      dueDay: done && localDay(new Date(done.body.dueAt)),
    },
    entry: (values) => {
      const { cellsPlated, purpose, note: said } = values;
      const { medium, looksFor, dueDay } = plateChosen(media, values, now);
      return {
        ...{ kind: 'microCheck' as const, lotId: lot.id, medium, looksFor, purpose, note: said },
        cellsPlated: cellsPlated === undefined ? undefined : cellsPlated * 1e6,
        dueAt: dueDay === undefined ? undefined : new Date(`${dueDay}T09:00`).toISOString(),
      };
    },
    fieldAt: (path, _index, typed) => {
      if (path === 'dueAt') return 'dueDay';
      return path === 'medium' && typed.medium === otherMedium ? 'otherName' : undefined;
    },
    corrects: done,
    onSaved,
  });
  const { known, dueDay } = plateChosen(media, form.values, now);
  return (
    <Form form={form} save={done ? 'Save the correction' : 'Write the plate down'}>
      <Field form={form} name="medium" />
      {form.typed.medium === otherMedium && (
        <>
          <Field form={form} name="otherName" />
          <Field form={form} name="looksFor" />
        </>
      )}
      {known !== undefined && dueDay !== undefined && (
        <p class="below-field" role="status">
          Read on {shownDay(dueDay)}
          {known.tempC !== undefined && `, kept at ${temperature(known.tempC)}`}. {known.source}.
        </p>
      )}
      <Field form={form} name="purpose" />
      <Field form={form} name="cellsPlated" />
      <Field form={form} name="dueDay" />
      <Field form={form} name="note" />
    </Form>
  );
}

function startMedium(media: readonly Medium[], name: string) {
  const isListed = media.some((medium) => medium.name === name);
  return isListed ? { medium: name } : { medium: otherMedium, otherName: name };
}

type ResultProps = {
  lot: LotStanding;
  /** The plate asked for, where the way here named one. */
  plateId?: string | undefined;
  done?: Standing<EntryOf<'microResult'>> | undefined;
  onSaved: (saved: Saved[]) => void;
};

const resultFields = (plates: readonly PlateStanding[]) => ({
  checkId: select({
    label: 'Plate',
    options: plates.map(({ id, medium, at }) => ({
      value: id,
      label: `${medium} of ${shownDay(at)}`,
    })),
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
  outcome: choice({
    label: 'What was found?',
    options: [
      { value: 'clear', label: 'Clear' },
      { value: 'found', label: 'Something grew' },
      { value: 'discard', label: 'Over the limit: throw it away' },
    ],
  }),
  note: note(),
});

export function PlateResultForm({ lot, plateId, done, onSaved }: ResultProps) {
  const plates = done
    ? lot.plates.filter(({ id }) => id === done.body.checkId)
    : unread(lot.plates);
  const fields = resultFields(plates);
  const form = useForm({
    key: `result.${done?.entryId ?? lot.id}`,
    fields,
    start: done ? startFrom(fields, done.body) : { checkId: plateId ?? plates.at(-1)?.id },
    entry: (values) => ({ kind: 'microResult', ...values }),
    corrects: done,
    onSaved,
  });
  const plate = plates.find(({ id }) => id === form.values.checkId);
  return (
    <Form form={form} save={done ? 'Save the correction' : 'Save the result'}>
      {plates.length > 1 && <Field form={form} name="checkId" />}
      {plate !== undefined && <p class="field-hint">{aboutPlate(plate)}</p>}
      <div class="pair">
        <Field form={form} name="colonies" />
        <Field form={form} name="ofColonies" />
      </div>
      {plate !== undefined && (
        <p class="reached" role="status">
          {plateSays(plate, form.values)}
        </p>
      )}
      <Field form={form} name="outcome" />
      <Field form={form} name="note" />
    </Form>
  );
}

const aboutPlate = ({ medium, looksFor, cellsPlated, at }: PlateStanding) =>
  `${medium} for ${looksFor}, plated ${shownDay(at)}, ${
    cellsPlated === null
      ? 'how many cells is not written down'
      : `${fixed(cellsPlated / 1e6, 1)} million cells`
  }.`;
