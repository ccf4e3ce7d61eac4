/**
 * Exact conversions between what a brewery writes and what is stored. Storage has one unit for each
 * quantity (litres, kilograms, °C, specific gravity); the rest exist at the borders only.
 */

/** [L], by statute (Weights and Measures Act 1985). */
const LITRES_PER_UK_GALLON = 4.54609;
/** [L], 231 cubic inches. */
const LITRES_PER_US_GALLON = 3.785411784;
const UK_GALLONS_PER_UK_BARREL = 36;
const US_GALLONS_PER_US_BARREL = 31;
/** [L]. A UK barrel is 1.39465 US beer barrels: pounds per barrel from the two are not the same. */
export const LITRES_PER_UK_BARREL = UK_GALLONS_PER_UK_BARREL * LITRES_PER_UK_GALLON;
/** [L]. */
export const LITRES_PER_US_BARREL = US_GALLONS_PER_US_BARREL * LITRES_PER_US_GALLON;
/** [kg], by international agreement of 1959. */
export const KILOGRAMS_PER_POUND = 0.45359237;

export const litresFromUkGallons = (ukGallons: number) => ukGallons * LITRES_PER_UK_GALLON;
export const ukGallonsFromLitres = (volumeL: number) => volumeL / LITRES_PER_UK_GALLON;

export const kilogramsFromPounds = (pounds: number) => pounds * KILOGRAMS_PER_POUND;
export const poundsFromKilograms = (massKg: number) => massKg / KILOGRAMS_PER_POUND;

export const celsiusFromFahrenheit = (fahrenheit: number) => ((fahrenheit - 32) * 5) / 9;
export const fahrenheitFromCelsius = (tempC: number) => (tempC * 9) / 5 + 32;

export const gramsPerLitreFromPoundsPerUkBarrel = (poundsPerUkBarrel: number) =>
  (1000 * kilogramsFromPounds(poundsPerUkBarrel)) / LITRES_PER_UK_BARREL;

export const gramsPerLitreFromPoundsPerUsBarrel = (poundsPerUsBarrel: number) =>
  (1000 * kilogramsFromPounds(poundsPerUsBarrel)) / LITRES_PER_US_BARREL;
