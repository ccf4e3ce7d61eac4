import { fallbacksFor, firstFallback, type KnownLot, knownLot } from '#shared/lots/knownLot.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { Saved } from '../../apiClient.ts';
import {
  amountEntry,
  check,
  decimal,
  gravityField,
  note,
  paragraph,
  type Spec,
  select,
  type Typed,
  text,
  volume,
  yeast,
} from '../form/fields.ts';
import { type Form, useForm } from '../form/useForm.ts';
import { byUse, isUsable } from '../lots/LotRows.tsx';
import { expectedOf, objection, type PitchSum, pitchSum } from './pitchSum.ts';
import {
  chosenWort,
  firstChoice,
  lotsFor,
  type Wort,
  type WortSources,
  wortOptions,
} from './pitchWort.ts';

type Start = { lot?: string | undefined; ferment?: string | undefined };
type Known = { sources: WortSources; lots: readonly LotStanding[]; start: Start };

export type PitchState = {
  form: Form;
  wort: Wort;
  chosen: readonly LotStanding[];
  sum: PitchSum;
  /** Per chosen lot, why it takes a word of reason. */
  objections: readonly string[];
};

export const useName = (lot: LotStanding) => `use_${lot.id}`;
export const densityName = (lot: LotStanding) => `density_${lot.id}`;
export const spunName = (lot: LotStanding) => `spun_${lot.id}`;
export const correctName = (lot: LotStanding) => `correct_${lot.id}`;

/** The pitch as it is being typed: the wort, the yeast, the sum, and the form that records it. */
export function usePitchForm(
  { sources, lots, start }: Known,
  onSaved: (saved: Saved[], wort: Wort) => void,
): PitchState {
  const first = firstLot(sources, lots, start);
  const perLot = lotFields(lots);
  const wortOf = (values: Parameters<typeof chosenWort>[1]) => chosenWort(sources, values);
  const chosenOf = (ids: string | undefined) =>
    (ids ?? '').split(' ').flatMap((id) => lots.find((lot) => lot.id === id) ?? []);
  const form = useForm({
    key: `pitch.${start.ferment ?? ''}.${start.lot ?? ''}`,
    fields: { ...pitchFields(sources), ...perLot },
    start: {
      wort: firstChoice(sources, start.ferment),
      lots: first,
      ...Object.fromEntries(lots.map((lot) => [densityName(lot), firstFallback(lot)])),
    },
    entry: (values, typed) => {
      const { ferment, strain } = wortOf(values);
      return chosenOf(values.lots).map((lot) => {
        const { use, known } = inHand(typed, lot);
        return {
          kind: 'pitch' as const,
          fermentId: ferment?.id,
          lotId: lot.id,
          ...amountEntry(lot.unit, use),
          ...('unusable' in known || use === undefined ? {} : expectedOf(known, use)),
          override: objection(lot, strain, known) === undefined ? undefined : values.override,
          note: values.note,
        };
      });
    },
    identity: (draft) =>
      draft.kind === 'pitch'
        ? `${draft.fermentId} ${draft.lotId} ${draft.amountL} ${draft.amountKg}`
        : draft.kind,
    which: (draft) => (draft.kind === 'pitch' ? `${draft.fermentId} ${draft.lotId}` : ''),
    alsoCheck: (values, typed) => {
      const { strain } = wortOf(values);
      const chosen = chosenOf(values.lots);
      if (chosen.length === 0) return [{ name: 'lots', message: 'Choose the yeast' }];
      const doubt = chosen
        .map((lot) => objection(lot, strain, inHand(typed, lot).known))
        .find((said) => said !== undefined);
      return doubt === undefined || values.override !== undefined
        ? []
        : [{ name: 'override', message: `${doubt}. Say why it is pitched all the same` }];
    },
    fieldAt: (path, index, typed) => {
      const lot = chosenOf(typed.lots)[index];
      if (/^amount/.test(path) && lot !== undefined) return useName(lot);
      if (path === 'fermentId') return 'wort';
      return path === 'lotId' ? 'lots' : undefined;
    },
    onSaved: (saved, values) => onSaved(saved, wortOf(values)),
  });

  const wort = wortOf(form.values);
  const chosen = chosenOf(form.typed.lots);
  const misread = misreadFigure(form);
  const inHands = chosen.map((lot) => inHand(form.typed, lot).known);
  return {
    form,
    wort,
    chosen,
    sum: misread ?? pitchSum({ wort, rate: form.values.rate, lots: inHands }),
    objections: chosen.flatMap((lot, index) => {
      const known = inHands[index];
      return known === undefined ? [] : (objection(lot, wort.strain, known) ?? []);
    }),
  };
}

/** A figure that cannot be read is said at once: the sum waits for it. */
function misreadFigure({ fields, typed }: Pick<Form, 'fields' | 'typed'>): PitchSum | undefined {
  const asked = typed.wort === 'typed' ? ['volumeL', 'gravitySg', 'rate'] : ['rate'];
  const [problem] = asked.flatMap((name) => {
    const parsed = fields[name]?.parse(typed[name] ?? '', typed);
    return parsed !== undefined && 'problem' in parsed ? [parsed.problem] : [];
  });
  return problem === undefined
    ? undefined
    : { kind: 'waiting', lacking: /[.?]$/.test(problem) ? problem : `${problem}.` };
}

const pitchFields = (sources: WortSources) => ({
  wort: select({ label: 'Into which wort?', options: wortOptions(sources) }),
  volumeL: volume({ label: 'Volume of the wort' }),
  gravitySg: gravityField({ label: 'Gravity of the wort' }),
  strainId: select({
    label: 'Strain',
    optional: true,
    options: sources.strains.map(({ id, name }) => ({ value: id, label: name })),
  }),
  rate: decimal({
    label: 'Pitching rate',
    unit: 'million/mL/°P',
    unitWords: 'million living cells per mL per °P',
  }),
  lots: text({ label: 'Yeast', optional: true }),
  override: paragraph({ label: 'Why is it pitched all the same?' }),
  note: note(),
});

type LotSpec = Spec<number> | Spec<string> | Spec<boolean>;

function lotFields(lots: readonly LotStanding[]): Record<string, LotSpec> {
  return Object.fromEntries(
    lots.flatMap((lot): [string, LotSpec][] => [
      [spunName(lot), spunField(lot)],
      [correctName(lot), check({ label: `Take this into the sum of ${lot.code}` })],
      [useName(lot), yeast({ label: `Amount of ${lot.code} put in`, measuredIn: lot.unit })],
      [
        densityName(lot),
        select({
          label: `What ${lot.code} is like`,
          hint:
            lot.byParts === null
              ? 'It was not counted, so its cells are guessed from this, with a wide range.'
              : 'It was not counted: its cells are worked out from the lots in it, unless you choose otherwise.',
          options: fallbacksFor(lot).map(({ id, name }) => ({ value: id, label: name })),
        }),
      ],
    ]),
  );
}

const spunField = (lot: LotStanding) =>
  decimal({
    label: `Yeast layer of ${lot.code} after spinning`,
    hint: '10 to 15 mL, 5 to 10 minutes at about 2000 g; leave the darker bands of trub out.',
    unit: '%',
    unitWords: 'percent of the volume',
    optional: true,
  });

/** A lot as it is being used: the amount typed, and the best evidence of its cells. */
function inHand(
  typed: Typed,
  lot: LotStanding,
): { use: number | undefined; known: KnownLot | { unusable: string } } {
  const spec = yeast({ label: '', measuredIn: lot.unit });
  const read = spec.parse(typed[useName(lot)] ?? '', typed);
  const use = 'value' in read && (read.value ?? 0) >= 0 ? read.value : undefined;
  const spun = spunField(lot).parse(typed[spunName(lot)] ?? '', typed);
  const choices = {
    spunPercent: 'value' in spun ? spun.value : undefined,
    isCorrected: typed[correctName(lot)] === 'yes',
  };
  return { use, known: knownLot(lot, typed[densityName(lot)] ?? '', use, choices) };
}

/** The lot asked for, else the best of the strain that the wort is for. */
function firstLot(sources: WortSources, lots: readonly LotStanding[], start: Start) {
  const asked = lots.find(({ id }) => id === start.lot);
  const wort = firstChoice(sources, start.ferment);
  const chosen = chosenWort(sources, {
    wort,
    volumeL: undefined,
    gravitySg: undefined,
    strainId: undefined,
  });
  const best = lotsFor(chosen, lots)
    .filter((lot) => isUsable(lot) && lot.strain.id === chosen.strain?.id)
    .toSorted(byUse);
  return asked?.id ?? best[0]?.id ?? '';
}
