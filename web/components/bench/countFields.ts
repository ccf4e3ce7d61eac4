import { chamberIds } from '#shared/science/chambers.ts';
import { countBases } from '#shared/words.ts';
import { choice, decimal, note, select, text, whole } from '../form/fields.ts';
import type { Values } from '../form/formEntries.ts';
import { wholeList } from '../form/listFields.ts';

const factor = (nth: number) =>
  decimal({
    label: nth === 1 ? 'Dilution factor' : `Dilution factor of dilution ${nth}`,
    hint:
      nth === 1
        ? '200 means 1 part made up to 200, the stain included; for a weighed sample, mL for each gram'
        : 'Left empty, as the first',
    optional: nth > 1,
  });
const squares = (dilution: number, side: string) =>
  wholeList({ label: `Cells of dilution ${dilution}, side ${side}`, optional: true });

export const countFields = () => ({
  basis: choice({
    label: 'The sample was',
    options: countBases.map((basis) => ({
      value: basis,
      label: basis === 'mL' ? 'measured, cells per mL' : 'weighed, cells per g',
    })),
  }),
  chamber: select({
    label: 'Chamber and squares',
    options: chamberIds.map((id) => ({
      value: id,
      label: id === 'own' ? 'Another chamber: own area and depth' : capitalised(id),
    })),
  }),
  squareAreaMm2: decimal({ label: 'Area of a square', unit: 'mm²', marks: ['mm2', 'mm²'] }),
  depthMm: decimal({
    label: 'Depth of the chamber',
    unit: 'mm',
    hint: 'It stands on the plate. Left empty, 0.1 mm.',
    optional: true,
  }),
  pipettingSteps: whole({
    label: 'Pipetting steps of a dilution',
    hint: 'How many volumes were measured one after the other; 0 when undiluted',
  }),
  diluent: text({
    label: 'Diluent',
    suggestions: ['0.5 % sulphuric acid', '0.5 M EDTA, pH 7', 'saline', 'water'],
    optional: true,
  }),
  factor1: factor(1),
  factor2: factor(2),
  factor3: factor(3),
  squares1A: squares(1, 'A'),
  squares1B: squares(1, 'B'),
  squares2A: squares(2, 'A'),
  squares2B: squares(2, 'B'),
  squares3A: squares(3, 'A'),
  squares3B: squares(3, 'B'),
  note: note(),
});
export type CountFields = ReturnType<typeof countFields>;
export type CountValues = Values<CountFields>;

const capitalised = (words: string) => words.slice(0, 1).toUpperCase() + words.slice(1);
