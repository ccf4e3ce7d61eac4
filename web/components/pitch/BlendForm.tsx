import type { LotStanding } from '#shared/views/lots.ts';
import type { Saved } from '../../apiClient.ts';
import { amount, cellsPer, cellsRange, fixed, percent } from '../../format.ts';
import { Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import {
  amountEntry,
  note,
  paragraph,
  type Spec,
  type Typed,
  text,
  yeast,
} from '../form/fields.ts';
import { useForm } from '../form/useForm.ts';
import { Figure } from '../frame/Figure.tsx';
import { Why } from '../frame/Why.tsx';
import { LotPicker } from '../lots/LotPicker.tsx';
import { blendCautions, blendSum, type Portion } from './blendSum.ts';
import { lotsFor } from './pitchWort.ts';

type Props = { lots: readonly LotStanding[]; start: string; onSaved: (saved: Saved[]) => void };

const useName = (lot: LotStanding) => `use_${lot.id}`;

const commonFields = {
  lots: text({ label: 'Lots to blend', optional: true }),
  container: text({ label: 'Container', optional: true }),
  place: text({ label: 'Place', optional: true }),
  override: paragraph({ label: 'Why is a lot on hold mixed in all the same?' }),
  note: note(),
};

/** Which lots, how much of each, and what they make together. */
export function BlendForm({ lots, start, onSaved }: Props) {
  const perLot = Object.fromEntries(
    lots.map((lot): [string, Spec<number>] => [
      useName(lot),
      yeast({ label: `How much of ${lot.code}`, measuredIn: lot.unit }),
    ]),
  );
  const portionsOf = (typed: Typed): Portion[] =>
    (typed.lots ?? '').split(' ').flatMap((id) => {
      const lot = lots.find((each) => each.id === id);
      if (lot === undefined) return [];
      const read = perLot[useName(lot)]?.parse(typed[useName(lot)] ?? '', typed);
      return [{ lot, use: read !== undefined && 'value' in read ? read.value : undefined }];
    });
  const form = useForm({
    key: `blend.${start}`,
    fields: { ...commonFields, ...perLot },
    start: { lots: start.split(',').join(' ') },
    entry: ({ container, place, override, note: said }, typed) => {
      const portions = portionsOf(typed);
      const total = portions.reduce((sum, { use }) => sum + (use ?? 0), 0);
      return {
        kind: 'blend' as const,
        parents: portions.map(({ lot, use }) => ({ lotId: lot.id, ...amountEntry(lot.unit, use) })),
        ...amountEntry(portions[0]?.lot.unit, total > 0 ? total : undefined),
        container,
        place,
        override: isAnyHeld(portions) ? override : undefined,
        note: said,
      };
    },
    alsoCheck: (values, typed) => {
      const portions = portionsOf(typed);
      const sum = blendSum(portions);
      if (sum.kind === 'waiting') return [{ name: fieldLacking(portions), message: sum.lacking }];
      return isAnyHeld(portions) && values.override === undefined
        ? [{ name: 'override', message: 'A lot is on hold: say why it is mixed in all the same' }]
        : [];
    },
    fieldAt: (path, _index, typed) => {
      const [, nth] = /^parents\.(\d+)/.exec(path) ?? [];
      const lot = nth === undefined ? undefined : portionsOf(typed)[Number(nth)]?.lot;
      if (lot !== undefined) return useName(lot);
      return /^(parents|amount)/.test(path) ? 'lots' : undefined;
    },
    onSaved,
  });
  const portions = portionsOf(form.typed);
  const { strain, siteId } = portions[0]?.lot ?? {};
  return (
    <Form form={form} save="Record the blend">
      <div class="beside">
        <div>
          <LotPicker form={form} lots={lotsFor({ siteId }, lots)} strain={strain} />
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
                    onClick={() =>
                      form.set(useName(lot), perLot[useName(lot)]?.show(lot.left) ?? '')
                    }
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

const isAnyHeld = (portions: readonly Portion[]) => portions.some(({ lot }) => lot.held !== null);

function fieldLacking(portions: readonly Portion[]): string {
  const missing = portions.find(({ use }) => !(use !== undefined && use > 0));
  return portions.length < 2 || missing === undefined ? 'lots' : useName(missing.lot);
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
    ? { value: `${shown} or worse`, range: `${percent(100 * high)} at the very most` }
    : { value: shown, range: `${fixed(100 * low, 0)} to ${percent(100 * high)}` };
}
