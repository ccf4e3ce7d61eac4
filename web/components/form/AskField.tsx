import { useState } from 'preact/hooks';
import { describedBy, Hint } from './Field.tsx';
import { fieldId } from './formProblems.ts';
import type { Ask } from './useAsk.ts';

type Props = { ask: Ask; name: string; suggest?: () => Promise<string> };

/** A box of a form about access; a password can be looked at, and one can be suggested. */
export function AskField({ ask, name, suggest }: Props) {
  const [isShown, setShown] = useState(false);
  const [suggested, setSuggested] = useState('');
  const spec = ask.specs[name];
  if (spec === undefined) return null;
  const id = fieldId(ask.key, name);
  const problem = ask.problems.find((found) => found.name === name)?.message;
  const isSecret = spec.type === 'password';
  const box = {
    id,
    name,
    value: ask.typed[name] ?? '',
    autocomplete: spec.autocomplete ?? 'off',
    spellcheck: false,
    maxLength: 128,
    'aria-invalid': problem === undefined ? undefined : true,
    'aria-describedby': describedBy(id, spec, problem),
    onInput: (event: { currentTarget: { value: string } }) =>
      ask.set(name, event.currentTarget.value),
  };
  return (
    <div class={problem === undefined ? 'field' : 'field field-wrong'}>
      <label for={id} class="field-label">
        {spec.label}
        {spec.optional && <span class="field-optional"> (may be left out)</span>}
      </label>
      <Hint id={id} spec={spec} problem={problem} />
      <span class="field-row">
        {isSecret && !isShown ? <input {...box} type="password" /> : <input {...box} type="text" />}
        {isSecret && (
          <button
            type="button"
            class="link"
            aria-pressed={isShown}
            onClick={() => setShown(!isShown)}
          >
            Show <span class="unseen">{spec.label}</span>
          </button>
        )}
      </span>
      {suggest && (
        <button
          type="button"
          class="link"
          onClick={() =>
            void suggest().then((phrase) => {
              ask.set(name, phrase);
              setSuggested(phrase);
              setShown(true);
            })
          }
        >
          Suggest a passphrase
        </button>
      )}
      {isShown && suggested !== '' && suggested === ask.typed[name] && (
        <p role="status">
          Write it down before you go on: <strong>{suggested}</strong>
        </p>
      )}
    </div>
  );
}
