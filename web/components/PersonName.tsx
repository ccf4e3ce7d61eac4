import { useState } from 'preact/hooks';
import { person } from '../settings.ts';

/** Whose device this is; the name goes with every entry made on it. */
export function PersonName() {
  const [open, setOpen] = useState(false);
  const [typed, setTyped] = useState(person.value);
  const ask = () => {
    setTyped(person.value);
    setOpen(true);
  };
  if (!open)
    return (
      <p class="person">
        <button type="button" class="link" onClick={ask}>
          {person.value === '' ? 'Who are you?' : `You are ${person.value}`}
        </button>
      </p>
    );
  const keepName = (event: Event) => {
    event.preventDefault();
    person.value = typed.trim();
    setOpen(false);
  };
  return (
    <form class="person" onSubmit={keepName}>
      <label for="person">Your name</label>
      <input
        id="person"
        value={typed}
        autocomplete="name"
        maxLength={80}
        onInput={(event) => setTyped(event.currentTarget.value)}
      />
      <button type="submit" class="button small">
        Keep
      </button>
    </form>
  );
}
