import {
  gramsPerLitreFromPoundsPerUkBarrel,
  gramsPerLitreFromPoundsPerUsBarrel,
} from '#shared/units.ts';
import { fixed } from '../../format.ts';
import { units } from '../../settings.ts';

/** Weight of yeast for the wort it goes into, as the trade writes it in the brewery's units. */
export function perWortWords(massKg: number, volumeL: number): string {
  const gramsPerL = (1000 * massKg) / volumeL;
  const metric = `${fixed(gramsPerL / 10, 2)} kg/hL`;
  switch (units.value.volume) {
    case 'UK brl':
      return `${fixed(gramsPerL / gramsPerLitreFromPoundsPerUkBarrel(1), 2)} lb per UK barrel (${metric}).`;
    case 'US bbl':
      return `${fixed(gramsPerL / gramsPerLitreFromPoundsPerUsBarrel(1), 2)} lb per US barrel (${metric}).`;
    default:
      return `${metric} of wort.`;
  }
}
