import {
  exactProportionInterval,
  upperLimitWhenNoneFound,
} from '#shared/science/proportionInterval.ts';
import type { Ranged, Recorded } from '#shared/views/recorded.ts';

/** Whether a plate is there to tell petites, by what it was said to look for. */
export const looksForPetites = ({
  looksFor,
  medium,
}: Pick<Recorded<'microCheck'>, 'looksFor' | 'medium'>) =>
  /petite|\bTTC\b/i.test(`${looksFor} ${medium}`);

/** Share of petites among the colonies looked at [%], exact 95 % range; none found is an upper limit. */
export function petitePercent(found: number, examined: number): Ranged {
  const { low, high } =
    found === 0
      ? { low: 0, high: upperLimitWhenNoneFound(examined) }
      : exactProportionInterval(found, examined);
  return { value: (100 * found) / examined, low: 100 * low, high: 100 * high };
}
