import { useEffect, useRef } from 'preact/hooks';
import { fieldId, formProblems } from './formProblems.ts';

/** What is wrong, first thing on the page, each a link to its field. */
export function ErrorSummary() {
  const box = useRef<HTMLDivElement>(null);
  const found = formProblems.value;
  const isShown = found !== null && (found.items.length > 0 || found.headline !== undefined);
  useEffect(() => {
    document.title = `${isShown ? 'Error: ' : ''}${document.title.replace(/^Error: /, '')}`;
    if (isShown) box.current?.focus();
  }, [found, isShown]);
  if (found === null || !isShown) return null;
  const items = found.items.toSorted(
    (a, b) => place(found.form, a.name) - place(found.form, b.name),
  );
  // Of one fault the server's sentence and the words beside the field are the same.
  const isToldBelow = items.some(
    ({ message }) => `${message}.` === `${found.headline?.replace(/\.$/, '')}.`,
  );
  return (
    <div class="summary" ref={box} tabIndex={-1}>
      <div role="alert">
        <h2>There is a problem</h2>
        {found.headline !== undefined && !isToldBelow && <p>{found.headline}</p>}
        <ul>
          {items.map(({ name, message }) => (
            <li key={`${name} ${message}`}>
              {name === '' ? (
                message
              ) : (
                <a
                  href={`#${fieldId(found.form, name)}`}
                  onClick={(event) => goTo(event, found.form, name)}
                >
                  {message}
                </a>
              )}
            </li>
          ))}
        </ul>
      </div>
    </div>
  );
}

function goTo(event: MouseEvent, form: string, name: string) {
  event.preventDefault();
  document.getElementById(fieldId(form, name))?.focus();
}

/** Where a field stands on the page, so that the list runs in the order of the form. */
function place(form: string, name: string): number {
  const controls = [...document.querySelectorAll('input, select, textarea')];
  const at = controls.findIndex(({ id }) => id === fieldId(form, name));
  return at < 0 ? controls.length : at;
}
