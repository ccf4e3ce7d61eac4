import type { ComponentChildren } from 'preact';
import { hourMs, minuteMs } from '#shared/durations.ts';
import { duration, moment } from '../../format.ts';
import type { Load } from './useLoad.ts';

/** What is looked for, and the list to choose from where it is not in the log. */
type Sought = { what: string; href: string; list: string };

export const soughtLot: Sought = { what: 'lot', href: '/yeast', list: 'Yeast in store' };
export const soughtGyle: Sought = { what: 'gyle', href: '/ferments', list: 'Ferments' };
export const soughtLine: Sought = { what: 'line', href: '/lines', list: 'Lines' };
export const soughtRecord: Sought = {
  what: 'record',
  href: '/trace',
  list: 'Find it by code, gyle or batch',
};

/** Shows what was loaded; until then says so, and says when it could not be. */
export function Loaded<T>({
  of,
  sought,
  children,
}: {
  of: Load<T>;
  sought?: Sought;
  children: (data: T) => ComponentChildren;
}) {
  const { data, error, isMissing, asOfMs, reload } = of;
  if (isMissing && sought !== undefined) return <Missing sought={sought} />;
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

function Missing({ sought: { what, href, list } }: { sought: Sought }) {
  return (
    <div class="load-error" role="alert">
      <p>This {what} is not in the log. The link may be cut short, or its entry was struck out.</p>
      <p>
        <a class="button quiet" href={href}>
          {list}
        </a>
      </p>
    </div>
  );
}
