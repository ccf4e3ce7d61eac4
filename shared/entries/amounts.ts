import type { Entry } from './entry.ts';

type Problem = { path: PropertyKey[]; message: string };
export type Amount = { amountL?: number | undefined; amountKg?: number | undefined };

const oneOfTwo = 'Give the amount in litres or in kilograms, one of the two';
const bothOrNeither = ({ amountL, amountKg }: Amount) =>
  (amountL === undefined) === (amountKg === undefined);

function measured(entry: Entry): Amount | undefined {
  switch (entry.kind) {
    case 'freshCulture':
    case 'pitch':
    case 'crop':
    case 'blend':
    case 'transfer':
    case 'discard':
      return entry;
    default:
      return undefined;
  }
}

/** Of a lot or of a crop to come, and only of a lot an amount. */
export function allotted(entry: Entry): Problem[] {
  if (entry.kind !== 'allotment') return [];
  const { fromLotId, fromFermentId, fromBrewId, amountL, amountKg } = entry;
  const sources = [fromLotId, fromFermentId, fromBrewId].filter((id) => id !== undefined);
  if (sources.length !== 1)
    return [
      {
        path: ['fromLotId'],
        message: 'Give one of three: a lot, a ferment or a planned brew whose crop it is to be',
      },
    ];
  if (amountL !== undefined && amountKg !== undefined)
    return [{ path: ['amountL'], message: 'Give the amount in litres or in kilograms, not both' }];
  return fromLotId === undefined && (amountL ?? amountKg) !== undefined
    ? [{ path: ['amountL'], message: 'Only of a lot in store can an amount be set aside' }]
    : [];
}

/** An amount is a volume or a weight, never both and never neither. */
export function exactlyOne(entry: Entry): Problem[] {
  const own = measured(entry);
  const problems: Problem[] =
    own !== undefined && bothOrNeither(own) ? [{ path: ['amountL'], message: oneOfTwo }] : [];
  if (entry.kind !== 'blend') return problems;
  const parents = entry.parents.flatMap((parent, index) =>
    bothOrNeither(parent) ? [{ path: ['parents', index, 'amountL'], message: oneOfTwo }] : [],
  );
  return [...problems, ...parents];
}

/** A reading of a ferment says something. */
export function atLeastOne(entry: Entry): Problem[] {
  if (entry.kind !== 'reading') return [];
  const { gravitySg, tempC, ph, cellsPerMl, count } = entry;
  return [gravitySg, tempC, ph, cellsPerMl, count].every((value) => value === undefined)
    ? [{ path: ['gravitySg'], message: 'Enter a gravity, a temperature, a pH or a cell count' }]
    : [];
}
