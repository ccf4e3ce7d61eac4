import { useCallback, useEffect, useRef, useState } from 'preact/hooks';
import { oldestKept } from '../../outbox/keptAnswers.ts';
import { roundsSent } from '../../outbox/queue.ts';
import { NotInTheLog } from '../../server.ts';

export type Load<T> = {
  data: T | null;
  /** One sentence on what went wrong; the last data stay on show. */
  error: string | null;
  /** The log holds nothing of the kind, so that trying again is no use. */
  isMissing: boolean;
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
  const [isMissing, setMissing] = useState(false);
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
        setMissing(false);
        setAsOfMs(oldestKept(controller.signal) ?? null);
      },
      (reason: unknown) => {
        if (controller.signal.aborted) return;
        setError(sentence(reason));
        setMissing(reason instanceof NotInTheLog);
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
  return { data, error, isMissing, asOfMs, reload };
}

function sentence(reason: unknown): string {
  const isNetwork = reason instanceof TypeError || !(reason instanceof Error);
  return isNetwork ? 'The server could not be reached.' : reason.message;
}
