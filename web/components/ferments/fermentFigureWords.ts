import type { FermentFigures } from '#shared/science/fermentFigures.ts';
import { fixed, gravity } from '../../format.ts';

/** How a figure of a finished ferment is named, shown, and come by. */
export type FigureWords = {
  key: keyof FermentFigures;
  label: string;
  show: (value: number) => string;
  /** Of a standard error, in the same unit. */
  error: (value: number) => string;
  formula: string;
  source: string;
};

const hours = {
  show: (value: number) => `${fixed(value, 1)} h`,
  error: (value: number) => `${fixed(value, 1)} h`,
};

const curveSource = 'ASBC Yeast-14; Speers et al. 2003.';

export const figureWords: readonly FigureWords[] = [
  {
    ...{ key: 'lagHours', label: 'Lag', ...hours },
    formula: 'Where the steepest tangent meets the starting gravity: M − 2/b on a symmetric curve.',
    source: curveSource,
  },
  {
    ...{ key: 'plainLagHours', label: 'First two degrees', ...hours },
    formula: 'From the pitch to a gravity two degrees under the original.',
    source: 'A convention, from memory.',
  },
  {
    ...{ key: 'halfTimeHours', label: 'Half time', ...hours },
    formula: 'From the pitch to half way from the original gravity to the end.',
    source: 'As used in Gabriel et al. 2008.',
  },
  {
    key: 'greatestRateDegreesPerHour',
    label: 'Greatest rate',
    show: (value) => `${fixed(value, 2)} degrees/h`,
    error: (value) => `${fixed(value, 2)} degrees/h`,
    formula: 'The steepest fall: b (Pi − Pe) / 4 on a symmetric curve.',
    source: curveSource,
  },
  {
    ...{ key: 'hours1040to1020', label: '1040 to 1020', ...hours },
    formula: 'Hours between these two gravities; only where both were passed.',
    source: 'As used in Kara et al. 1988.',
  },
  {
    ...{ key: 'timeToWithinOneDegreeHours', label: 'Within a degree of the end', ...hours },
    formula: 'From the pitch to one degree above the end.',
    source: 'Derived from the curve.',
  },
  {
    key: 'endGravitySg',
    label: 'End gravity',
    show: gravity,
    error: (value) => `${fixed(value * 1000, 1)} degrees`,
    formula: 'The gravity the fall runs out to.',
    source: curveSource,
  },
];
