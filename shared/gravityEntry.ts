import { possibleSg, sgFromExcessDegrees, sgFromPlato } from './science/gravity.ts';

export const gravityFieldUnits = ['sg', 'plato', 'degrees'] as const;
export type GravityFieldUnit = (typeof gravityFieldUnits)[number];

export type GravityReading =
  | { kind: 'ok'; gravitySg: number }
  | {
      kind: 'unsure';
      message: string;
      offerSg?: number;
      /** As likely, on another scale. */
      otherSg?: number;
    };

/** What a wort or beer reads on each scale; outside, a number belongs to another one. */
const reads = {
  sg: { low: possibleSg.low, high: possibleSg.high },
  thousandfold: { low: possibleSg.low * 1000, high: possibleSg.high * 1000 },
  degrees: { low: -20, high: 150 },
  plato: { low: -5, high: 35 },
  /** The strongest worts brewed are of about 1130: common practice, no source. */
  wortPlato: { low: -5, high: 30 },
} as const;

/**
 * Reads a typed gravity by the unit of its field. 1040 is taken as 1.040 in any field, since it can be
 * nothing else; every other figure that does not fit its field is questioned, never guessed.
 */
export function readGravity(value: number, unit: GravityFieldUnit): GravityReading {
  if (!Number.isFinite(value)) return { kind: 'unsure', message: 'Enter a gravity as a number' };
  if (within(value, reads.thousandfold)) return { kind: 'ok', gravitySg: value / 1000 };
  if (unit === 'sg') return readSg(value);
  if (within(value, reads.sg)) {
    const scale = unit === 'plato' ? '°P' : 'degrees of gravity';
    return {
      kind: 'unsure',
      message: `This field takes ${scale}, and ${value} looks like a specific gravity: is ${shown(value)} meant?`,
      offerSg: value,
    };
  }
  return unit === 'plato' ? readPlato(value) : readDegrees(value);
}

function readSg(value: number): GravityReading {
  if (within(value, reads.sg)) return { kind: 'ok', gravitySg: value };
  if (value >= 2 && value <= reads.degrees.high) {
    const offerSg = sgFromExcessDegrees(value);
    const asPlato = within(value, reads.wortPlato)
      ? `; as °P it would be ${shown(sgFromPlato(value))}`
      : '';
    return {
      kind: 'unsure',
      message: `${value} is no specific gravity: is ${shown(offerSg)} meant${asPlato}?`,
      offerSg,
      ...(within(value, reads.wortPlato) ? { otherSg: sgFromPlato(value) } : {}),
    };
  }
  return {
    kind: 'unsure',
    message: `${value} is no specific gravity of a wort or beer: enter it like 1.040 or 1040`,
  };
}

function readPlato(value: number): GravityReading {
  if (within(value, reads.plato)) return { kind: 'ok', gravitySg: sgFromPlato(value) };
  if (value > 0 && value <= reads.degrees.high) {
    const offerSg = sgFromExcessDegrees(value);
    return {
      kind: 'unsure',
      message: `${value} is too high for °P: are ${value} degrees, ${shown(offerSg)}, meant?`,
      offerSg,
    };
  }
  return { kind: 'unsure', message: `${value} is no gravity in °P: enter it like 10.0` };
}

function readDegrees(value: number): GravityReading {
  if (within(value, reads.degrees)) {
    return { kind: 'ok', gravitySg: sgFromExcessDegrees(value) };
  }
  return { kind: 'unsure', message: `${value} is no gravity in degrees: enter it like 40` };
}

function within(value: number, range: { low: number; high: number }): boolean {
  return value >= range.low && value <= range.high;
}

/** As brewers write it: 1.0130 is 1013, 1.0526 is 1052.6. */
function shown(gravitySg: number): string {
  return String(Math.round(gravitySg * 10_000) / 10);
}
