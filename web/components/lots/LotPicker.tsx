import type { LotStanding } from '#shared/views/lots.ts';
import type { StrainView } from '#shared/views/recorded.ts';
import { amount, duration, generation } from '../../format.ts';
import type { AnyForm } from '../form/Field.tsx';
import { Hint, problemOf } from '../form/Field.tsx';
import { fieldId } from '../form/formProblems.ts';
import { SiteTag } from '../frame/SiteOfRecord.tsx';
import { Status } from '../frame/Status.tsx';
import { byUse } from './LotRows.tsx';

type Props = { form: AnyForm; lots: readonly LotStanding[]; strain: StrainView | undefined };

/** Which lots the yeast comes from; used in the order they were picked. */
export function LotPicker({ form, lots, strain }: Props) {
  const spec = form.fields.lots;
  if (spec === undefined) return null;
  const id = fieldId(form.key, 'lots');
  const problem = problemOf(form, 'lots');
  const picked = (form.typed.lots ?? '').split(' ').filter((lot) => lot !== '');
  const toggle = (lot: string) =>
    form.set(
      'lots',
      (picked.includes(lot) ? picked.filter((other) => other !== lot) : [...picked, lot]).join(' '),
    );
  const isOwn = (lot: LotStanding) => strain === undefined || lot.strain.id === strain.id;
  const own = lots.filter(isOwn).toSorted(byUse);
  const others = lots.filter((lot) => !isOwn(lot)).toSorted(byUse);
  const row = (lot: LotStanding, at: number) => (
    <label key={lot.id} class="choice-option lot-option">
      <input
        type="checkbox"
        id={at === 0 ? id : `${id}-${lot.id}`}
        checked={picked.includes(lot.id)}
        onChange={() => toggle(lot.id)}
      />
      <span class="lot-option-name">
        {lot.code} <SiteTag site={lot.siteId} />
      </span>
      <Status verdict={lot.verdict.verdict} />
      <span class="lot-option-facts">
        {amount(lot.left, lot.unit)} left, {generation(lot.generation)}, {duration(lot.ageHours)}{' '}
        old
      </span>
    </label>
  );
  return (
    <fieldset class={`field${problem === undefined ? '' : ' field-wrong'}`}>
      <legend class="field-label">Yeast</legend>
      <Hint id={id} spec={spec} problem={problem} />
      {own.length === 0 && <p class="empty">No lot of this strain is in store.</p>}
      <div class="lot-options">{own.map(row)}</div>
      {others.length > 0 && (
        <details class="more" open={others.some((lot) => picked.includes(lot.id))}>
          <summary>Of another strain</summary>
          <div class="lot-options">{others.map((lot, at) => row(lot, own.length + at))}</div>
        </details>
      )}
    </fieldset>
  );
}
