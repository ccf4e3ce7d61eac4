import type { ComponentChildren } from 'preact';
import { hourMs, minuteMs } from '#shared/durations.ts';
import { duration, moment } from '../format.ts';
import type { Load } from './useLoad.ts';

/** Shows what was loaded; until then says so, and says when it could not be. */
export function Loaded<T>({
  of,
  children,
}: {
  of: Load<T>;
  children: (data: T) => ComponentChildren;
}) {
  const { data, error, asOfMs, reload } = of;
  return (
    <>
      {error !== null && (
        <div class="load-error" role="alert">
          <p>
            {error} {data === null ? '' : 'What you see may be out of date.'}
          </p>
          <button type="button" class="button quiet" onClick={reload}>
            Try again
          </button>
        </div>
      )}
      {asOfMs !== null && error === null && (
        <p class="as-of">
          The server cannot be reached: this is as of {moment(new Date(asOfMs).toISOString())}
          {agoWords(Date.now() - asOfMs)}.{' '}
          <button type="button" class="link" onClick={reload}>
            Try again
          </button>
        </p>
      )}
      {data === null ? error === null && <p class="loading">Fetching…</p> : children(data)}
    </>
  );
}

const agoWords = (ms: number) => (ms < minuteMs ? '' : `, ${duration(ms / hourMs)} ago`);
