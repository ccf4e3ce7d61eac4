import type { EntryOf } from '#shared/entries/entry.ts';
import { type ChamberId, chamberIds, chamberRuling } from '#shared/science/chambers.ts';
import type { CellCount } from '#shared/science/countSetup.ts';
import type { Recorded } from '#shared/views/recorded.ts';
import type { budRules, edgeRules } from '#shared/words.ts';
import type { CountFields, CountValues } from './countFields.ts';

/** The sides of the slide that can be counted, by the dilution they were drawn from. */
export const sides = [
  { squares: 'squares1A', factor: 'factor1', dilution: 1, name: 'Side A' },
  { squares: 'squares1B', factor: 'factor1', dilution: 1, name: 'Side B' },
  { squares: 'squares2A', factor: 'factor2', dilution: 2, name: 'Side A' },
  { squares: 'squares2B', factor: 'factor2', dilution: 2, name: 'Side B' },
  { squares: 'squares3A', factor: 'factor3', dilution: 3, name: 'Side A' },
  { squares: 'squares3B', factor: 'factor3', dilution: 3, name: 'Side B' },
] as const;
export type Side = (typeof sides)[number];

/** Sides with a square counted, each with its own dilution. */
export function fillingsOf(values: CountValues) {
  return sides.flatMap((side) => {
    const counted = values[side.squares];
    if (counted === undefined) return [];
    const dilutionFactor = values[side.factor] ?? values.factor1;
    return [{ side, filling: { squares: counted, dilutionFactor, dilution: side.dilution } }];
  });
}

function geometryOf({ chamber = 'own', squareAreaMm2, depthMm }: CountValues) {
  const ruling = chamberRuling(chamber);
  return {
    squareAreaMm2: ruling.squareAreaMm2 ?? squareAreaMm2,
    depthMm: depthMm ?? ruling.depthMm,
  };
}

/** The count as an entry; whatever is still missing stays so, for the form to ask. */
export function countEntry(lotId: string, values: CountValues) {
  const { basis, note: said } = values;
  return { kind: 'count', lotId, basis, ...chamberCount(values), note: said } as const;
}

/** A count of the wort in an FV: a reading that holds its squares. */
export function fvCountEntry(fermentId: string, values: CountValues) {
  const { chamber = 'own', pipettingSteps, note: said } = values;
  const { squareAreaMm2 = Number.NaN, ...count } = chamberCount(values);
  const steps = pipettingSteps ?? Number.NaN;
  return {
    kind: 'reading',
    fermentId,
    count: { ...count, chamber, squareAreaMm2, pipettingSteps: steps },
    note: said,
  } as const;
}

function chamberCount(values: CountValues) {
  const { chamber, pipettingSteps, diluent } = values;
  const slide = { chamber, pipettingSteps, diluent, ...geometryOf(values) };
  return { ...slide, fillings: fillingsFor(values) };
}

// The schema refuses a factor that is missing; NaN stands for it where the type wants a number.
const fillingsFor = (values: CountValues) =>
  fillingsOf(values).map(({ filling }) => ({
    ...filling,
    dilutionFactor: filling.dilutionFactor ?? Number.NaN,
  }));

type Errors = { chamberCvPercent: number; pipettingCvPercent: number };

/** What can be worked out from the values so far; undefined until there is a square and a factor. */
export function cellCountOf(values: CountValues, errors: Errors | null): CellCount | undefined {
  const { squareAreaMm2, depthMm } = geometryOf(values);
  const fillings = fillingsOf(values).flatMap(({ filling }) => {
    const { dilutionFactor = 0 } = filling;
    return dilutionFactor >= 1 ? [{ ...filling, dilutionFactor }] : [];
  });
  if (fillings.length === 0 || !((squareAreaMm2 ?? 0) > 0) || squareAreaMm2 === undefined) return;
  if (!(depthMm > 0)) return;
  const { pipettingSteps } = values;
  return {
    fillings,
    squareAreaMm2,
    depthMm,
    pipettingSteps:
      pipettingSteps !== undefined && pipettingSteps >= 0 ? pipettingSteps : undefined,
    errors:
      errors === null
        ? undefined
        : {
            chamberCv: errors.chamberCvPercent / 100,
            pipettingCv: errors.pipettingCvPercent / 100,
          },
  };
}

const isChamberId = (chamber: string): chamber is ChamberId =>
  chamberIds.some((id) => id === chamber);

/** What carries over from the last count: the slide and the dilution, never a figure counted. */
export function startFromLastCount(
  last: EntryOf<'count'> | undefined,
  unit: 'L' | 'kg',
): { [K in keyof CountFields]?: string } {
  const basis = unit === 'L' ? 'mL' : 'g';
  if (last === undefined) return { basis, chamber: chamberIds[0], pipettingSteps: '1' };
  return {
    ...slideOf(last),
    basis,
    factor1: last.basis === basis ? String(last.fillings[0]?.dilutionFactor ?? '') : '',
  };
}

function slideOf(count: EntryOf<'count'>) {
  const own = !isChamberId(count.chamber) || count.chamber === 'own';
  const depthMm = own
    ? undefined
    : chamberRuling(isChamberId(count.chamber) ? count.chamber : 'own').depthMm;
  return {
    chamber: own ? 'own' : count.chamber,
    ...(own ? { squareAreaMm2: String(count.squareAreaMm2) } : {}),
    ...(count.depthMm === depthMm ? {} : { depthMm: String(count.depthMm) }),
    pipettingSteps: String(count.pipettingSteps),
    diluent: count.diluent ?? '',
  };
}

/** A whole count as it was typed, to correct it. */
export function startFromCount(count: EntryOf<'count'> | Recorded<'count'>) {
  const placed = [1, 2, 3].flatMap((dilution) => {
    const drawn = count.fillings.filter((filling) => filling.dilution === dilution);
    const places = sides.filter((side) => side.dilution === dilution);
    return drawn.flatMap((filling, nth) => {
      const side = places[nth];
      return side === undefined
        ? []
        : [
            [side.squares, filling.squares.join(',')],
            [side.factor, String(filling.dilutionFactor)],
          ];
    });
  });
  return {
    ...slideOf(count),
    ...Object.fromEntries(placed),
    basis: count.basis,
    note: count.note ?? '',
  };
}

/** Whether a count fits the form: three dilutions of two sides at most. */
export const fitsForm = (count: EntryOf<'count'>) =>
  count.fillings.every(({ dilution }) => dilution <= 3) &&
  [1, 2, 3].every(
    (dilution) => count.fillings.filter((filling) => filling.dilution === dilution).length <= 2,
  );

export const budWords: Record<(typeof budRules)[number], string> = {
  'half the mother or larger':
    'A bud half as large as its mother or larger is a cell; a smaller one is part of the mother.',
  'every bud': 'Every bud is a cell.',
  'no bud': 'No bud is a cell: it is part of its mother.',
};
export const edgeWords: Record<(typeof edgeRules)[number], string> = {
  'top and left in':
    'A cell on the top or left line of a square is in it; on the bottom or right, out.',
  'bottom and left in':
    'A cell on the bottom or left line of a square is in it; on the top or right, out.',
  'top and right in':
    'A cell on the top or right line of a square is in it; on the bottom or left, out.',
};
