import type { EntryOf } from '#shared/entries/entry.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { Saved } from '../../apiClient.ts';
import { temperature as tempWords } from '../../format.ts';
import { siteName, sites } from '../../sites.ts';
import { Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import { amountEntry, note, select, text, yeast } from '../form/fields.ts';
import type { Standing } from '../form/standingEntries.ts';
import { startFrom } from '../form/startFrom.ts';
import { useForm } from '../form/useForm.ts';
import { Caution } from '../frame/Caution.tsx';

type Props = {
  lot: LotStanding;
  /** The entry to be corrected; yeast is sent without it. */
  done?: Standing<EntryOf<'transfer'>> | undefined;
  onSaved: (saved: Saved | undefined, siteId: string | undefined) => void;
};

/** Sends yeast to another site, where it is a lot of the same generation and line. */
export function TransferForm({ lot, done, onSaved }: Props) {
  const here = siteName(lot.siteId);
  const others = sites.value.filter(({ name }) => name !== here);
  const options = (done === undefined ? others : sites.value).map(({ id, name }) => ({
    value: id,
    label: name,
  }));
  const [only, ...more] = options;
  const fields = {
    toSiteId: select({ label: 'To which site?', options }),
    amount: yeast({ label: 'Amount sent', measuredIn: lot.unit }),
    container: text({ label: 'Container', optional: true }),
    place: text({ label: 'Place there', optional: true, hint: 'Where it will stand.' }),
    note: note(),
  };
  const amount = done?.body.amountL ?? done?.body.amountKg ?? Math.max(0, lot.left);
  const form = useForm({
    key: `transfer.${done?.entryId ?? lot.id}`,
    fields,
    start: {
      ...(done && startFrom(fields, done.body)),
      toSiteId: done?.body.toSiteId ?? (more.length === 0 ? only?.value : undefined),
      container: done === undefined ? lot.record.container : done.body.container,
      amount: fields.amount.show(amount),
    },
    entry: ({ amount: sent, ...rest }) => ({
      kind: 'transfer',
      lotId: done?.body.lotId ?? lot.id,
      code: done?.body.code,
      ...rest,
      ...amountEntry(lot.unit, sent),
    }),
    corrects: done,
    onSaved: ([saved], { toSiteId }) => onSaved(saved, toSiteId),
  });
  const { storeLowC, storeHighC } = lot.strain;
  return (
    <Form form={form} save={done ? 'Save the correction' : 'Record it as sent'}>
      {lot.held !== null && (
        <p class="warning">It is on hold, and stays so there: {lot.held.why}</p>
      )}
      <Field form={form} name="toSiteId" />
      <Field form={form} name="amount" />
      <div class="pairs">
        <Field form={form} name="container" />
        <Field form={form} name="place" />
      </div>
      <Field form={form} name="note" />
      <Caution title="Live yeast makes gas on the road too">
        <p>
          Vent the container: never a tight one, never glass, and leave room for foam. Carbon
          dioxide gathers in a closed van, so air it and keep the yeast apart from the driver.
        </p>
        <p>
          Keep it cold all the way, {tempWords(storeLowC)} to {tempWords(storeHighC)}, and take its
          temperature on arrival.
        </p>
      </Caution>
    </Form>
  );
}
