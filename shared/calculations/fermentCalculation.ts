import * as z from 'zod/mini';
import {
  type AttenuationReached,
  attenuationReached,
} from '#shared/ferments/attenuationReached.ts';
import { quantity } from '#shared/fields.ts';
import type { Estimate } from '#shared/science/deltaMethod.ts';
import {
  type FermentCurve,
  type FittedFerment,
  fitFermentCurve,
} from '#shared/science/fermentCurve.ts';
import type { FermentFigures } from '#shared/science/fermentFigures.ts';
import { orderedReadings } from '#shared/science/fermentReadings.ts';
import { sgFromPlato } from '#shared/science/gravity.ts';
import { sgOf } from './gravityField.ts';

const sg = (name: string) => z.optional(z.number({ error: `${name} must be a number as 1.040` }));

const reading = z.strictObject({
  /** Since the pitch; what came before it is negative. */
  hours: quantity('hours', 'hours since the pitch', { min: -1000, max: 10_000 }),
  gravitySg: sg('gravitySg'),
  gravityPlato: z.optional(quantity('gravityPlato', '°P', { min: -10, max: 40 })),
});

export const fermentRequest = z
  .strictObject({
    readings: z
      .array(reading, { error: 'readings must be a list' })
      .check(
        z.minLength(1, { error: 'Give one reading at least' }),
        z.maxLength(500, { error: 'At most 500 readings of one ferment' }),
      ),
    originalGravitySg: sg('originalGravitySg'),
  })
  .check((context) => {
    const { readings, originalGravitySg } = context.value;
    const refuse = (path: (string | number)[], message: string | undefined) => {
      if (message !== undefined)
        context.issues.push({ code: 'custom', input: context.value, path, message });
    };
    for (const [index, given] of readings.entries()) {
      const { gravitySg, gravityPlato } = given;
      if ((gravitySg === undefined) === (gravityPlato === undefined))
        refuse(['readings', index, 'gravitySg'], 'Give one of gravitySg and gravityPlato');
      else refuse(['readings', index, 'gravitySg'], doubtAbout(gravitySg));
    }
    refuse(['originalGravitySg'], doubtAbout(originalGravitySg));
  });

type FermentRequest = z.output<typeof fermentRequest>;
type Reading = FermentRequest['readings'][number];

type FermentReply = Record<keyof FermentFigures, Estimate | null> & {
  kind: FermentCurve['kind'];
  converged: boolean;
  /** Why there is no curve; null when there is one. */
  why: string | null;
  form: FittedFerment['form'] | null;
  parameters: FittedFerment['parameters'] | null;
  residualSdDegrees: number | null;
  rSquared: number | null;
  originalGravityFrom: 'given' | 'the fitted start' | 'the first reading' | null;
  attenuation: Omit<AttenuationReached, 'abvBallingPercent' | 'abvHmrcPercent'> | null;
  abv: { ballingPercent: number; hmrcPercent: number | null } | null;
  notes: { path: string; message: string }[];
};

/** The curve through the gravities of one ferment, its figures, attenuation, and strength both ways. */
export function fermentCalculation({ readings, originalGravitySg }: FermentRequest): FermentReply {
  const read = readings.map(({ hours, ...given }) => ({ hours, gravitySg: inSg(given) }));
  const original = originalGravitySg === undefined ? undefined : understood(originalGravitySg);
  const options = original === undefined ? {} : { originalGravitySg: original };
  const curve = fitFermentCurve(read, options);
  const fitted = curve.kind === 'fitted' ? curve : null;
  const ordered = orderedReadings(read).readings;
  const from = originalOf(original, fitted, ordered[0]?.gravitySg);
  const last = ordered.at(-1)?.gravitySg;
  const reached =
    from.sg === undefined || last === undefined ? null : attenuationReached(from.sg, last);
  return {
    kind: curve.kind,
    converged: curve.converged,
    why: curve.kind === 'crossings' ? curve.why : null,
    form: fitted?.form ?? null,
    parameters: fitted?.parameters ?? null,
    residualSdDegrees: fitted?.residualSdDegrees ?? null,
    rSquared: fitted?.rSquared ?? null,
    ...figuresOrNull(curve.derived),
    originalGravityFrom: from.source,
    ...strengthOf(reached),
    notes: [...mixedUnits(readings), ...notesOf(curve)],
  };
}

function doubtAbout(gravitySg: number | undefined): string | undefined {
  if (gravitySg === undefined) return undefined;
  const reading = sgOf(gravitySg);
  return reading.kind === 'unsure' ? reading.message : undefined;
}

function understood(gravitySg: number): number {
  const reading = sgOf(gravitySg);
  return reading.kind === 'ok' ? reading.gravitySg : gravitySg;
}

const inSg = ({ gravitySg, gravityPlato }: Omit<Reading, 'hours'>) =>
  gravitySg === undefined ? sgFromPlato(gravityPlato ?? 0) : understood(gravitySg);

function originalOf(
  given: number | undefined,
  fitted: FittedFerment | null,
  firstSg: number | undefined,
): { sg: number | undefined; source: FermentReply['originalGravityFrom'] } {
  if (given !== undefined) return { sg: given, source: 'given' };
  if (fitted !== null)
    return { sg: fitted.parameters.initialGravitySg.value, source: 'the fitted start' };
  return { sg: firstSg, source: firstSg === undefined ? null : 'the first reading' };
}

function figuresOrNull(derived: FermentFigures): Record<keyof FermentFigures, Estimate | null> {
  return {
    lagHours: derived.lagHours ?? null,
    plainLagHours: derived.plainLagHours ?? null,
    halfTimeHours: derived.halfTimeHours ?? null,
    greatestRateDegreesPerHour: derived.greatestRateDegreesPerHour ?? null,
    hours1040to1020: derived.hours1040to1020 ?? null,
    timeToWithinOneDegreeHours: derived.timeToWithinOneDegreeHours ?? null,
    endGravitySg: derived.endGravitySg ?? null,
  };
}

function strengthOf(reached: AttenuationReached | null): Pick<FermentReply, 'attenuation' | 'abv'> {
  if (reached === null) return { attenuation: null, abv: null };
  const { abvBallingPercent, abvHmrcPercent, ...attenuation } = reached;
  return {
    attenuation,
    abv: { ballingPercent: abvBallingPercent, hmrcPercent: abvHmrcPercent },
  };
}

/** Each gravity says its unit, so a mixture is understood; that it was one is told. */
function mixedUnits(readings: readonly Reading[]): FermentReply['notes'] {
  const first = readings[0]?.gravitySg === undefined ? 'gravityPlato' : 'gravitySg';
  return readings.flatMap((given, index) => {
    const name = given.gravitySg === undefined ? 'gravityPlato' : 'gravitySg';
    const message = `given as ${name} and the first as ${first}, brought to one unit`;
    return name === first ? [] : [{ path: `readings.${index}.${name}`, message }];
  });
}

const notesOf = ({ notes }: FermentCurve) =>
  notes.map(({ index, message }) => ({ path: `readings.${index}`, message }));
