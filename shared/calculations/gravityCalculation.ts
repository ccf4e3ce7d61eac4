import * as z from 'zod/mini';
import {
  excessDegreesFromSg,
  platoFromSg,
  sgFromExcessDegrees,
  sgFromPlato,
} from '#shared/science/gravity.ts';
import { sgOf, sgOfPlato } from './gravityField.ts';

const number = (name: string) => z.optional(z.number({ error: `${name} must be a number` }));

/** A gravity in one unit of three. */
export const gravityRequest = z
  .strictObject({
    gravitySg: number('gravitySg'),
    gravityPlato: number('gravityPlato'),
    excessDegrees: number('excessDegrees'),
  })
  .check((context) => {
    const { gravitySg, gravityPlato, excessDegrees } = context.value;
    const given = [gravitySg, gravityPlato, excessDegrees].filter((value) => value !== undefined);
    const refuse = (path: string, message: string) =>
      context.issues.push({ code: 'custom', input: context.value, path: [path], message });
    if (given.length !== 1) {
      refuse('gravitySg', 'Give one of gravitySg, gravityPlato and excessDegrees');
      return;
    }
    if (gravitySg !== undefined) {
      const reading = sgOf(gravitySg);
      if (reading.kind === 'unsure') refuse('gravitySg', reading.message);
    }
    if (gravityPlato !== undefined) {
      const reading = sgOfPlato(gravityPlato);
      if (reading.kind === 'unsure') refuse('gravityPlato', reading.message);
    }
    if (excessDegrees !== undefined && !(excessDegrees >= -40 && excessDegrees <= 180))
      refuse(
        'excessDegrees',
        'excessDegrees must be a number from -40 to 180 degrees (40 is 1.040)',
      );
  });

/** The same gravity in all three units. */
export function gravityCalculation(request: z.output<typeof gravityRequest>) {
  const gravitySg = inSg(request);
  return {
    gravitySg,
    gravityPlato: platoFromSg(gravitySg),
    excessDegrees: excessDegreesFromSg(gravitySg),
  };
}

function inSg({ gravitySg, gravityPlato, excessDegrees }: z.output<typeof gravityRequest>): number {
  if (gravitySg !== undefined) {
    const reading = sgOf(gravitySg);
    return reading.kind === 'ok' ? reading.gravitySg : gravitySg;
  }
  if (gravityPlato !== undefined) {
    const reading = sgOfPlato(gravityPlato);
    return reading.kind === 'ok' ? reading.gravitySg : sgFromPlato(gravityPlato);
  }
  return sgFromExcessDegrees(excessDegrees ?? 0);
}
