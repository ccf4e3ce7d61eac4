import type { ComponentChildren } from 'preact';
import type { Load } from './useLoad.ts';

/** Shows what was loaded; until then says so, and says when it could not be. */
export function Loaded<T>({
  of,
  children,
}: {
  of: Load<T>;
  children: (data: T) => ComponentChildren;
}) {
  const { data, error, reload } = of;
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
      {data === null ? error === null && <p class="loading">Fetching…</p> : children(data)}
    </>
  );
}
