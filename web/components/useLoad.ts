import { useCallback, useEffect, useRef, useState } from 'preact/hooks';

export type Load<T> = {
  data: T | null;
  /** One sentence on what went wrong; the last data stay on show. */
  error: string | null;
  reload: () => void;
};

/** Loads on arrival and again whenever the page comes back into view. */
export function useLoad<T>(
  fetcher: (signal: AbortSignal) => Promise<T>,
  dependencies: readonly (string | number | undefined)[] = [],
): Load<T> {
  const [data, setData] = useState<T | null>(null);
  const [error, setError] = useState<string | null>(null);
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
    addEventListener('focus', onView);
    document.addEventListener('visibilitychange', onView);
    return () => {
      running.current?.abort();
      removeEventListener('focus', onView);
      document.removeEventListener('visibilitychange', onView);
    };
  }, [reload]);
  return { data, error, reload };
}

function sentence(reason: unknown): string {
  const isNetwork = reason instanceof TypeError || !(reason instanceof Error);
  return isNetwork ? 'The server could not be reached.' : reason.message;
}
