import * as z from 'zod/mini';
import { quantity } from '#shared/fields.ts';
import { type Trend, trend } from '#shared/science/trend.ts';
import { series } from './series.ts';

const length = { least: 3, most: 500 } as const;

/** Values and the times they were taken at, in any one unit of time. */
export const trendRequest = z
  .strictObject({
    times: series('times', length),
    values: series('values', length),
    confidence: z.optional(quantity('confidence', '(0.95 is 95 %)', { min: 0.5, max: 0.999 })),
  })
  .check((context) => {
    const { times, values } = context.value;
    const refuse = (path: (string | number)[], message: string) =>
      context.issues.push({ code: 'custom', input: context.value, path, message });
    if (times.length !== values.length)
      refuse(['values'], `There are ${times.length} times and ${values.length} values: one each`);
    const seen = new Set<number>();
    for (const [index, time] of times.entries()) {
      if (seen.has(time))
        refuse(['times', index], `${time} is given twice: each value needs a time of its own`);
      seen.add(time);
    }
  });

type TrendReply = Trend & { values: number };

/** Whether values rise or fall over time, by how much, and how sure that is; order does not matter. */
export function trendCalculation({
  times,
  values,
  confidence,
}: z.output<typeof trendRequest>): TrendReply {
  const points = times.flatMap((t, index) => {
    const y = values[index];
    return y === undefined ? [] : [{ t, y }];
  });
  return { values: points.length, ...trend(points, confidence) };
}
