import type { Cause } from '#shared/science/causesToCheck.ts';

/** What to look into when a ferment is slow, as a brewer calls it. */
export const causeTitles: Record<Cause['cause'], string> = {
  'viable pitch': 'Living yeast pitched',
  oxygen: 'Oxygen in the wort',
  zinc: 'Zinc',
  temperature: 'Temperature',
  'free amino nitrogen': 'Malt: free amino nitrogen',
  viability: 'Yeast: viability',
  storage: 'Yeast: days in store',
};

/** A cause's figure as recorded, or its limit, in words. */
export function causeFigure({ cause, unit }: Pick<Cause, 'cause' | 'unit'>, value: number): string {
  switch (cause) {
    case 'viable pitch':
      return `${(100 * value).toFixed(0)} % of what was wanted`;
    case 'viability':
      return `${(100 * value).toFixed(0)} % alive`;
    case 'temperature':
      return `${Math.abs(value).toFixed(1)} °C ${value < 0 ? 'above' : 'below'} the set temperature`;
    default:
      return `${Number(value.toPrecision(2))} ${unit}`;
  }
}
