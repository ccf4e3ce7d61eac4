import { useEffect, useState } from 'preact/hooks';
import { fetchTraceable, type Traceable } from '../../apiClient.ts';
import { day } from '../../format.ts';
import { detailOf, kindWords } from './traceWords.ts';

const pauseMs = 200;

/** Finds a lot by its code, a ferment by its gyle, casks by their batch. */
export function TraceSearch() {
  const [text, setText] = useState('');
  const [found, setFound] = useState<readonly Traceable[] | null>(null);
  const wanted = text.trim();
  useEffect(() => {
    if (wanted === '') return setFound(null);
    const controller = new AbortController();
    const timer = setTimeout(() => {
      fetchTraceable(wanted, controller.signal).then(setFound, () => undefined);
    }, pauseMs);
    return () => {
      clearTimeout(timer);
      controller.abort();
    };
  }, [wanted]);
  return (
    <search class="trace-search">
      <div class="field">
        <label class="field-label" for="trace-search">
          Find what to trace
        </label>
        <span id="trace-search-hint" class="field-hint">
          Part of a lot code, a gyle number or a cask batch.
        </span>
        <input
          id="trace-search"
          type="text"
          autocomplete="off"
          spellcheck={false}
          autocapitalize="characters"
          aria-describedby="trace-search-hint"
          value={text}
          onInput={(event) => setText(event.currentTarget.value)}
        />
      </div>
      <p role="status" class="unseen">
        {found === null ? '' : `${found.length} found`}
      </p>
      {found !== null && <Found items={found} wanted={wanted} />}
    </search>
  );
}

function Found({ items, wanted }: { items: readonly Traceable[]; wanted: string }) {
  if (items.length === 0) return <p class="empty">Nothing in the log bears “{wanted}”.</p>;
  return (
    <ul class="pick">
      {items.map(({ id, kind, label, detail, siteId, at }) => (
        <li key={`${id} ${label}`}>
          <a href={`/trace?of=${id}`}>
            <span class="pick-name">{label}</span>
            <span>
              {kindWords[kind]}: {detailOf({ detail, siteId })}
            </span>
            <small>{day(at)}</small>
          </a>
        </li>
      ))}
    </ul>
  );
}
