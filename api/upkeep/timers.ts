import { faultFields, type Log } from '../log.ts';

/** Runs jobs at intervals; one that takes longer than its interval is not started twice. */
export function createTimers(log: Log) {
  const timers: NodeJS.Timeout[] = [];
  const running = new Set<Promise<void>>();

  const every = (ms: number, job: () => Promise<void>) => {
    let current: Promise<void> | undefined;
    const timer = setInterval(() => {
      if (current !== undefined) return;
      const run = job()
        .catch((error: unknown) => log('error', 'upkeep failed', faultFields(error)))
        .finally(() => {
          running.delete(run);
          current = undefined;
        });
      current = run;
      running.add(run);
    }, ms);
    timers.push(timer);
  };
  /** Starts nothing more, and waits for what runs, up to a limit. */
  const stop = async (withinMs: number) => {
    for (const timer of timers) clearInterval(timer);
    const limit = new Promise((resolve) => setTimeout(resolve, withinMs).unref());
    await Promise.race([Promise.all(running), limit]);
  };
  return { every, stop };
}
