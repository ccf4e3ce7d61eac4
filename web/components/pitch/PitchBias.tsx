import { FV_COUNT_WITHIN_HOURS } from '#shared/lots/strainHistory.ts';
import type { SlurryBias } from '#shared/lots/strainLearning.ts';
import { LEAST_PAIRS } from '#shared/science/slurryBias.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import { fixed, percent } from '../../format.ts';
import { type AnyForm, Field } from '../form/Field.tsx';
import { Why } from '../frame/Why.tsx';
import { correctName } from './usePitchForm.ts';

/** How far counts in the FV lay from what the bench promised; taken into the sum only when asked. */
export function PitchBias({ form, lot }: { form: AnyForm; lot: LotStanding }) {
  const bias = lot.learned.slurryBias;
  if (bias === null) return null;
  return (
    <section class="bias" aria-label={`Counts in the FV for lots like ${lot.code}`}>
      <p>
        <strong>Found in the FV: </strong>
        {biasWords(bias)}
      </p>
      {bias.distinguishable ? (
        <Field form={form} name={correctName(lot)} />
      ) : (
        <p class="field-hint">{whyNotOffered(bias)}</p>
      )}
      <Why title="How this is known">
        <p>
          Cells counted in the FV up to {FV_COUNT_WITHIN_HOURS} hours after pitching, before buds
          are cells, over those that the counts of the lots promised. Pooled over {bias.pairs}{' '}
          {bias.pairs === 1 ? 'pitch' : 'pitches'} of {lot.strain.name}, {kindWords(bias)}, with a
          spread from batch to batch of its own (derived; DerSimonian and Laird 1986). Taken into
          the sum, it moves the figure and adds the doubt about it; the pitch records that it was.
        </p>
      </Why>
    </section>
  );
}

export const kindWords = ({ origin, unit }: Pick<SlurryBias, 'origin' | 'unit'>) =>
  `${origin}, ${unit === 'kg' ? 'weighed' : 'measured in litres'}`;

function biasWords({ ratio, low, high, pairs }: SlurryBias): string {
  const from = `${pairs} ${pairs === 1 ? 'pitch' : 'pitches'}`;
  return `${percent(100 * ratio)} of the cells the bench promised (${fixed(100 * low, 0)} to ${percent(100 * high)}, from ${from}).`;
}

function whyNotOffered({ pairs }: SlurryBias): string {
  return pairs < LEAST_PAIRS
    ? `Nothing is corrected before there are ${LEAST_PAIRS} pitches to go by.`
    : 'That cannot be told from 100 %: nothing is corrected.';
}
