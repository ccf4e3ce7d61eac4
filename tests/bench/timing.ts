import { monitorEventLoopDelay } from 'node:perf_hooks';

type Clock = () => number;

/** Time this process kept a processor busy so far [ms]: another that wants one changes it little. */
export const processorMs: Clock = () => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
};
const wallMs: Clock = () => performance.now();

/** Median time of some runs [ms], each of two works in turn so that both meet the same machine. */
export async function medians(
  runs: number,
  first: () => Promise<unknown>,
  second: () => Promise<unknown>,
  clock = wallMs,
): Promise<[number, number]> {
  const times: [number[], number[]] = [[], []];
  await first();
  await second();
  for (let run = 0; run < runs; run += 1) {
    times[0].push(await timed(first, clock));
    times[1].push(await timed(second, clock));
  }
  return [median(times[0]), median(times[1])];
}

async function timed(work: () => Promise<unknown>, clock: Clock): Promise<number> {
  const start = clock();
  await work();
  return clock() - start;
}

/** The longest of some runs that anything else had to wait while `work` went on [ms]. */
export async function heldMs(work: () => Promise<unknown>, runs = 5): Promise<number> {
  const resolution = 1;
  const delay = monitorEventLoopDelay({ resolution });
  const longest: number[] = [];
  for (let run = 0; run < runs; run += 1) {
    delay.reset();
    delay.enable();
    await pause();
    await work();
    await pause();
    delay.disable();
    longest.push(delay.max / 1e6 - resolution);
  }
  return median(longest);
}

const pause = () => new Promise((resolve) => setTimeout(resolve, 5));

export function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = sorted.length / 2;
  const at = (index: number) => sorted[index] ?? Number.NaN;
  return sorted.length % 2 === 1 ? at(Math.floor(middle)) : (at(middle - 1) + at(middle)) / 2;
}

export const ratio = (value: number) => `${value.toFixed(value < 10 ? 2 : 0)}x`;

/** A table as the documents hold it. */
export const markdown = (headings: readonly string[], rows: readonly (readonly string[])[]) =>
  [headings, headings.map(() => '---'), ...rows].map((row) => `| ${row.join(' | ')} |`).join('\n');
