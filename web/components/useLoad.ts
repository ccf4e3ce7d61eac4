import { useCallback, useEffect, useRef, useState } from 'preact/hooks';
import { oldestKept } from '../outbox/keptAnswers.ts';
import { roundsSent } from '../outbox/queue.ts';

export type Load<T> = {
  data: T | null;
  /** One sentence on what went wrong; the last data stay on show. */
  error: string | null;
  /** When the oldest of the data was fetched, where the server could not be reached now. */
  asOfMs: number | null;
  reload: () => void;
};

/** Loads on arrival, and again when the page comes back into view or something was sent. */
export function useLoad<T>(
  fetcher: (signal: AbortSignal) => Promise<T>,
  dependencies: readonly (string | number | undefined)[] = [],
): Load<T> {
  const [data, setData] = useState<T | null>(null);
  const [error, setError] = useState<string | null>(null);
  const [asOfMs, setAsOfMs] = useState<number | null>(null);
  const running = useRef<AbortController | null>(null);
  const reload = useCallback(() => {
    running.current?.abort();
    const controller = new AbortController();
    running.current = controller;
    fetcher(controller.signal).then(
      (fresh) => {
        if (controller.signal.aborted) return;
        setData(fresh);
        setError(null);
        setAsOfMs(oldestKept(controller.signal) ?? null);
      },
      (reason: unknown) => {
        if (!controller.signal.aborted) setError(sentence(reason));
      },
    );
  }, dependencies);
  useEffect(() => {
    setData(null);
    reload();
    const onView = () => {
      if (document.visibilityState === 'visible') reload();
    };
    let rounds = roundsSent.value;
    const onSent = roundsSent.subscribe((now) => {
      if (now !== rounds) reload();
      rounds = now;
    });
    addEventListener('focus', onView);
    addEventListener('online', onView);
    document.addEventListener('visibilitychange', onView);
    return () => {
      running.current?.abort();
      onSent();
      removeEventListener('focus', onView);
      removeEventListener('online', onView);
      document.removeEventListener('visibilitychange', onView);
    };
  }, [reload]);
  return { data, error, asOfMs, reload };
}

function sentence(reason: unknown): string {
  const isNetwork = reason instanceof TypeError || !(reason instanceof Error);
  return isNetwork ? 'The server could not be reached.' : reason.message;
}
