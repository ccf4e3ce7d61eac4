/** Median time of some runs [ms], each of two works in turn so that both meet the same machine. */
export async function medians(
  runs: number,
  first: () => Promise<unknown>,
  second: () => Promise<unknown>,
): Promise<[number, number]> {
  const times: [number[], number[]] = [[], []];
  await first();
  await second();
  for (let run = 0; run < runs; run += 1) {
    times[0].push(await timed(first));
    times[1].push(await timed(second));
  }
  return [median(times[0]), median(times[1])];
}

async function timed(work: () => Promise<unknown>): Promise<number> {
  const start = performance.now();
  await work();
  return performance.now() - start;
}

export function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = sorted.length / 2;
  const at = (index: number) => sorted[index] ?? Number.NaN;
  return sorted.length % 2 === 1 ? at(Math.floor(middle)) : (at(middle - 1) + at(middle)) / 2;
}

export const ratio = (value: number) => `${value.toFixed(value < 10 ? 2 : 0)}x`;
