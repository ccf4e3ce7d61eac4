import type { StorageLoss } from '#shared/lots/strainLearning.ts';
import type { Ranged } from '#shared/views/recorded.ts';
import { fixed } from '../../format.ts';

/** What a strain loses in store, as believed beforehand and as its own lots have shown. */
export function StorageLossWords({ loss, strain }: { loss: StorageLoss; strain: string }) {
  const { prior, learned, lots } = loss;
  return (
    <p>
      Believed beforehand: {perDay(prior)}, from one lager strain (McCaig and Bendiak 1985), with a
      wide doubt.{' '}
      {lots === 0
        ? `Nothing learned of ${strain} yet: stain a lot twice, days apart, and its own loss is taken.`
        : `Learned from ${lots} ${lots === 1 ? 'lot' : 'lots'} of ${strain} stained twice, drawn towards that belief: ${perDay(learned)}. The learned one is used.`}
    </p>
  );
}

const perDay = ({ value, low, high }: Ranged) =>
  `${inPercent(value)} % of the living lost a day at 1 °C (${inPercent(low)} to ${inPercent(high)})`;

const inPercent = (share: number) => fixed(100 * share, share < 0.01 ? 2 : 1);
