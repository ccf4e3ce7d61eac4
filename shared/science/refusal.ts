/** Throws the RangeError with which every function here refuses an argument outside its domain. */
export function refuse(functionName: string, rule: string, got: unknown): never {
  throw new RangeError(`${functionName}: ${rule}, got ${String(got)}`);
}

/** @throws RangeError unless the value is a finite number above 0 */
export function requirePositive(functionName: string, name: string, value: number): void {
  if (!(value > 0 && value < Infinity)) refuse(functionName, `${name} must be > 0`, value);
}

/** @throws RangeError unless the value is a finite number of at least 0 */
export function requireNotNegative(functionName: string, name: string, value: number): void {
  if (!(value >= 0 && value < Infinity)) refuse(functionName, `${name} must be >= 0`, value);
}

/** @throws RangeError unless the value is from 0 to 1 */
export function requireFraction(functionName: string, name: string, value: number): void {
  if (!(value >= 0 && value <= 1)) refuse(functionName, `${name} must be from 0 to 1`, value);
}

/**
 * For a fraction that is divided by, such as a viability: zero has no meaning.
 * @throws RangeError unless the value is above 0 and at most 1
 */
export function requireShare(functionName: string, name: string, value: number): void {
  if (!(value > 0 && value <= 1)) {
    refuse(functionName, `${name} must be above 0 and at most 1`, value);
  }
}

/** @throws RangeError unless the value lies between 0 and 1, neither of them */
export function requireConfidence(functionName: string, value: number): void {
  if (!(value > 0 && value < 1)) {
    refuse(functionName, 'confidence must be between 0 and 1', value);
  }
}

/** @throws RangeError unless the value is a whole number of at least 0 */
export function requireCount(functionName: string, name: string, value: number): void {
  if (!(Number.isSafeInteger(value) && value >= 0)) {
    refuse(functionName, `${name} must be a whole number >= 0`, value);
  }
}
