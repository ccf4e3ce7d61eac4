import { type PitchLot, viableCellsPerUnit } from './lotContribution.ts';

export type PitchStep = { label: string; formula: string; value: number; unit: string };

/**
 * The working of a pitch, line by line, for whoever opens the figure.
 *
 * @param target  living cells wanted [cells/mL] and in all [cells]
 * @param lots  as viableCellsPerUnit takes them, each with its id
 * @param amounts  amount of each [L or kg]
 * @returns label, formula in words, value and unit of each step
 * @throws RangeError as viableCellsPerUnit
 *
 * Source: derived.
 */
export function pitchSteps(
  target: { cellsPerMl: number; viableCells: number },
  lots: readonly (PitchLot & { id: string })[],
  amounts: readonly number[],
): PitchStep[] {
  return [
    {
      label: 'Living cells wanted in the wort',
      formula: 'pitching rate × °P',
      value: target.cellsPerMl,
      unit: 'cells/mL',
    },
    {
      label: 'Living cells wanted in all',
      formula: 'cells/mL × volume in mL',
      value: target.viableCells,
      unit: 'cells',
    },
    ...lots.flatMap((lot, index) => lotSteps(lot, amounts[index] ?? 0)),
  ];
}

function lotSteps(lot: PitchLot & { id: string }, amount: number): PitchStep[] {
  const per = lot.unit === 'L' ? 'mL' : 'g';
  const perUnit = viableCellsPerUnit(lot).median;
  const survives = lot.survival === undefined ? '' : ' × share surviving in store';
  const living: PitchStep = {
    label: `Living cells in lot ${lot.id}`,
    formula: `cells/${per} × share alive${survives} × 1000`,
    value: perUnit,
    unit: `cells/${lot.unit}`,
  };
  const wayToAmount =
    lot.use === undefined
      ? `cells still lacking ÷ living cells per ${lot.unit}, at most what is left`
      : 'fixed by the brewer';
  return [
    living,
    { label: `Amount of lot ${lot.id}`, formula: wayToAmount, value: amount, unit: lot.unit },
    {
      label: `Living cells from lot ${lot.id}`,
      formula: `amount × living cells per ${lot.unit}`,
      value: amount * perUnit,
      unit: 'cells',
    },
  ];
}
