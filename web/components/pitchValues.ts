import type { FermentStanding, LotStanding } from '#shared/views.ts';
import { type LotUse, type PitchSum, pitchSum } from './pitchSum.ts';
import type { FieldProblem } from './useForm.ts';

const slots = ['first', 'second', 'third'] as const;
type Slot = (typeof slots)[number];

/** What the pitch form holds, as far as the sum needs it. */
export type PitchValues = {
  fermentId: string | undefined;
  rate: number | undefined;
  override: string | undefined;
} & { [S in Slot as `${S}Lot`]: string | undefined } & {
  [S in Slot as `${S}Use`]: number | undefined;
};

type Known = { ferments: readonly FermentStanding[]; lots: readonly LotStanding[] };

export function usesOf(values: PitchValues, { lots }: Known): LotUse[] {
  return slots.flatMap((slot) => {
    const lot = lots.find(({ id }) => id === values[`${slot}Lot`]);
    return lot === undefined ? [] : [{ lot, use: values[`${slot}Use`] }];
  });
}

export function sumOf(values: PitchValues, known: Known): PitchSum {
  const ferment = known.ferments.find(({ id }) => id === values.fermentId);
  if (ferment === undefined) return { lacking: 'Choose the gyle.' };
  if (values.rate === undefined || values.rate <= 0) return { lacking: 'Enter the pitching rate.' };
  return pitchSum(ferment, values.rate, usesOf(values, known));
}

/** What is recorded: each lot that yeast is taken from, with the amount as shown. */
export function pitchedAmounts(values: PitchValues, known: Known) {
  const sum = sumOf(values, known);
  if (!('reply' in sum)) return [];
  return usesOf(values, known).flatMap(({ lot }, index) => {
    const part = sum.reply.lots[index];
    const amount = Number((part?.amount ?? 0).toPrecision(4));
    return part === undefined || amount <= 0 ? [] : [{ lot, amount, cells: part.viableCells }];
  });
}

export const needsReason = ({ lot }: LotUse) =>
  lot.held !== null || lot.verdict.verdict === 'past it';

export function pitchRefusals(values: PitchValues, known: Known): FieldProblem[] {
  const sum = sumOf(values, known);
  if (!('reply' in sum)) return [{ name: 'firstLot', message: sum.lacking }];
  const uses = usesOf(values, known);
  if (new Set(uses.map(({ lot }) => lot.id)).size < uses.length)
    return [{ name: 'secondLot', message: 'Each lot is named once' }];
  const doubtful = uses.find(needsReason)?.lot;
  return doubtful === undefined || values.override !== undefined
    ? []
    : [
        {
          name: 'override',
          message: `${doubtful.code} is ${doubtful.verdict.verdict}: say why it is pitched all the same`,
        },
      ];
}
