import type { AnyForm } from './Field.tsx';
import { Field } from './Field.tsx';

type WordChoiceProps = { form: AnyForm; name: string; words: readonly string[] };

/** Words to tap into a text field; whatever is not among them can still be typed. */
export function WordChoice({ form, name, words }: WordChoiceProps) {
  const said = (form.typed[name] ?? '').split(',').map((part) => part.trim());
  const chosen = said.filter((part) => part !== '');
  const label = form.fields[name]?.label ?? '';
  const toggle = (word: string) => {
    const kept = chosen.filter((part) => part !== word);
    form.set(name, (chosen.includes(word) ? kept : [...chosen, word]).join(', '));
  };
  return (
    <div class="word-choice">
      <Field form={form} name={name} />
      <fieldset class="word-row" aria-label={`${label}: words to choose`}>
        {words.map((word) => (
          <button
            key={word}
            type="button"
            class="word"
            aria-pressed={chosen.includes(word)}
            onClick={() => toggle(word)}
          >
            {word}
          </button>
        ))}
      </fieldset>
    </div>
  );
}
