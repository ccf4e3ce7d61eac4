import * as z from 'zod/mini';
import { blendOf } from '#shared/science/blend.ts';
import type { Ranged } from '#shared/views/recorded.ts';
import { knownLot } from './knownLot.ts';
import { lotFaults } from './lotFaults.ts';
import { type LotRequest, lotFields, unitOf } from './lotRequest.ts';

const part = z.strictObject(lotFields);

export const blendRequest = z
  .strictObject({
    lots: z
      .array(part, { error: 'lots must be a list' })
      .check(
        z.minLength(2, { error: 'A blend needs two lots or more' }),
        z.maxLength(12, { error: 'At most 12 lots' }),
      ),
  })
  .check((context) => {
    // Fields that are wrong by themselves are not judged together.
    if (context.issues.length > 0) return;
    const { lots } = context.value;
    const refuse = (index: number, field: string, message: string) =>
      context.issues.push({
        code: 'custom',
        input: context.value,
        path: ['lots', index, field],
        message,
      });
    const units = new Set(lots.map(unitOf));
    lots.forEach((given, index) => {
      for (const { field, message } of lotFaults(given)) refuse(index, field, message);
      if (!(amountOf(given) > 0))
        refuse(
          index,
          unitOf(given) === 'L' ? 'useL' : 'useKg',
          'Say how much of it goes into the blend',
        );
      if (units.size > 1 && unitOf(given) !== unitOf(lots[0] ?? given))
        refuse(index, 'cellsPerMl', 'Lots of a blend are all measured, or all weighed');
    });
  });

const amountOf = ({ useL, useKg }: LotRequest) => useL ?? useKg ?? 0;

type BlendReply = {
  unit: 'L' | 'kg';
  amount: number;
  /** Cells, dead and alive, per mL or per g. */
  cellsPer: Ranged;
  viabilityPercent: Ranged;
  /** True when the viability is only the most it can be. */
  viabilityAtMost: boolean;
  warnings: string[];
};

/** What a blend holds, by the cells that each lot brings. */
export function blendCalculation({ lots }: z.output<typeof blendRequest>): BlendReply {
  const known = lots.map((given) => ({ ...knownLot(given), amount: amountOf(given) }));
  const { viability, viabilityAtMost, unit, amount, cellsPer } = blendOf(
    known.map(({ lot, amount: used }) => ({ ...lot, amount: used })),
  );
  return {
    unit,
    amount,
    cellsPer,
    viabilityPercent: {
      value: 100 * viability.value,
      low: viabilityAtMost ? 0 : 100 * viability.low,
      high: 100 * viability.high,
    },
    viabilityAtMost,
    warnings: known.flatMap(({ warnings }) => warnings),
  };
}
