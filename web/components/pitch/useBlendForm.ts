import type { LotStanding } from '#shared/views/lots.ts';
import type { Saved } from '../../apiClient.ts';
import {
  amountEntry,
  note,
  paragraph,
  type Spec,
  type Typed,
  text,
  yeast,
} from '../form/fields.ts';
import type { Values } from '../form/formEntries.ts';
import { useForm } from '../form/useForm.ts';
import { blendSum, type Portion } from './blendSum.ts';

export type BlendStart = {
  lots: readonly LotStanding[];
  /** The ids of the lots it begins with, with commas between. */
  start: string;
  onSaved: (saved: Saved[]) => void;
};

export const useName = (lot: LotStanding) => `use_${lot.id}`;

export const isAnyHeld = (portions: readonly Portion[]) =>
  portions.some(({ lot }) => lot.held !== null);

const commonFields = {
  lots: text({ label: 'Lots to blend', optional: true }),
  container: text({ label: 'Container', optional: true }),
  place: text({ label: 'Place', optional: true }),
  override: paragraph({ label: 'Why is a lot on hold mixed in all the same?' }),
  note: note(),
};

/** The blend as it is being typed: its portions, and the form that records it. */
export function useBlendForm({ lots, start, onSaved }: BlendStart) {
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
    entry: (values, typed) => blendEntry(values, portionsOf(typed)),
    alsoCheck: ({ override }, typed) => blendProblems(override, portionsOf(typed)),
    fieldAt: (path, _index, typed) => fieldRefused(path, portionsOf(typed)),
    onSaved,
  });
  return {
    form,
    portions: portionsOf(form.typed),
    allThatIsLeft: (lot: LotStanding) => perLot[useName(lot)]?.show(lot.left) ?? '',
  };
}

type Facts = Pick<Values<typeof commonFields>, 'container' | 'place' | 'override' | 'note'>;

function blendEntry({ container, place, override, note: said }: Facts, portions: Portion[]) {
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
}

function blendProblems(override: string | undefined, portions: readonly Portion[]) {
  const sum = blendSum(portions);
  if (sum.kind === 'waiting') return [{ name: fieldLacking(portions), message: sum.lacking }];
  return isAnyHeld(portions) && override === undefined
    ? [{ name: 'override', message: 'A lot is on hold: say why it is mixed in all the same' }]
    : [];
}

function fieldLacking(portions: readonly Portion[]): string {
  const missing = portions.find(({ use }) => !(use !== undefined && use > 0));
  return portions.length < 2 || missing === undefined ? 'lots' : useName(missing.lot);
}

/** Where a refusal of one of the parents, or of the amount, belongs. */
function fieldRefused(path: string, portions: readonly Portion[]): string | undefined {
  const [, nth] = /^parents\.(\d+)/.exec(path) ?? [];
  const lot = nth === undefined ? undefined : portions[Number(nth)]?.lot;
  if (lot !== undefined) return useName(lot);
  return /^(parents|amount)/.test(path) ? 'lots' : undefined;
}
