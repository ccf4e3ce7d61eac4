import { type GravityReading, readGravity } from '#shared/gravityEntry.ts';

/** A number given as SG, understood where its meaning is plain: 1040 is 1.040. */
export function sgOf(value: number): GravityReading {
  return readGravity(value, 'sg');
}

/** A number given as °P: 1040 is 1.040 all the same, and 1.040 is questioned. */
export function sgOfPlato(value: number): GravityReading {
  return readGravity(value, 'plato');
}

type Given = { gravitySg?: number | undefined; gravityPlato?: number | undefined };

/** The gravity of a wort, given once, and what is wrong with it otherwise; the field is named. */
export function wortGravity({
  gravitySg,
  gravityPlato,
}: Given): { gravitySg: number } | { field: keyof Given; message: string } {
  if ((gravitySg === undefined) === (gravityPlato === undefined))
    return {
      field: 'gravitySg',
      message: 'Give the gravity once: as gravitySg or as gravityPlato',
    };
  const field = gravitySg === undefined ? 'gravityPlato' : 'gravitySg';
  const reading = gravitySg === undefined ? sgOfPlato(gravityPlato ?? 0) : sgOf(gravitySg);
  if (reading.kind === 'unsure') return { field, message: reading.message };
  return reading.gravitySg > 1.001
    ? { gravitySg: reading.gravitySg }
    : { field, message: 'A wort has a gravity above 1.001: check the figure' };
}
