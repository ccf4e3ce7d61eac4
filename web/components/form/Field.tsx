import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { CheckBox } from './CheckBox.tsx';
import { ChoiceField } from './ChoiceField.tsx';
import type { Spec } from './fields.ts';
import { fieldId } from './formProblems.ts';
import type { Form } from './useForm.ts';

export type AnyForm = Pick<Form, 'key' | 'fields' | 'typed' | 'set' | 'problems'>;
type Props = { form: AnyForm; name: string; beside?: ComponentChildren };

/** One field of a form: label, unit, hint, the box, and what is wrong with it. */
export function Field({ form, name, beside }: Props) {
  const spec = form.fields[name];
  if (spec === undefined) return null;
  if (spec.control === 'choice') return <ChoiceField form={form} name={name} spec={spec} />;
  if (spec.control === 'check') return <CheckBox form={form} name={name} spec={spec} />;
  const id = fieldId(form.key, name);
  const problem = problemOf(form, name);
  const unit = spec.unit?.(form.typed);
  return (
    <div class={`field${problem === undefined ? '' : ' field-wrong'}`}>
      <label for={id} class="field-label">
        {spec.label}
        {unit && unit.words !== '' && <span class="field-unit-words">, {inWords(unit.words)}</span>}
        {spec.optional && <span class="field-optional"> (may be left out)</span>}
      </label>
      <Hint id={id} spec={spec} problem={problem} />
      <Row offers={<Offers form={form} name={name} spec={spec} />} isWrong={problem !== undefined}>
        <Box form={form} name={name} spec={spec} id={id} problem={problem} />
        {unit && unit.sign !== '' && (
          <span class="field-unit" aria-hidden="true">
            {unit.sign}
          </span>
        )}
        {beside}
      </Row>
    </div>
  );
}

type RowProps = { offers: ComponentChildren; isWrong: boolean; children: ComponentChildren };

/** The box, and below it what may be meant: not while it is being typed, 10 beginning 1040. */
function Row({ offers, isWrong, children }: RowProps) {
  const [isTyping, setTyping] = useState(false);
  const onLeave = () => {
    // Shown while a button below is being pressed, it would push that from under the finger.
    const isPressed = document.querySelector(':active') !== null;
    if (!isPressed) return setTyping(false);
    addEventListener('mouseup', () => setTimeout(() => setTyping(false)), { once: true });
  };
  return (
    <>
      <span class="field-row" onFocusIn={() => setTyping(true)} onFocusOut={onLeave}>
        {children}
      </span>
      {(!isTyping || isWrong) && offers}
    </>
  );
}

/** One tap takes what was probably meant. */
function Offers({ form, name, spec }: { form: AnyForm; name: string; spec: Spec<unknown> }) {
  const offers = spec.offers?.(form.typed[name] ?? '') ?? [];
  if (offers.length === 0) return null;
  return (
    <p class="field-offers">
      Was it{' '}
      {offers.map((text, index) => (
        <span key={text}>
          {index > 0 && ' or '}
          <button type="button" class="link" onClick={() => form.set(name, text)}>
            {text}
          </button>
        </span>
      ))}
      ?
    </p>
  );
}

const inWords = (words: string) => (/^such/.test(words) ? words : `in ${words}`);

export const problemOf = (form: AnyForm, name: string) =>
  form.problems.find((problem) => problem.name === name)?.message;

export function Hint({
  id,
  spec,
  problem,
}: {
  id: string;
  spec: Pick<Spec<unknown>, 'hint'>;
  problem: string | undefined;
}) {
  return (
    <>
      {spec.hint !== undefined && (
        <span id={`${id}-hint`} class="field-hint">
          {spec.hint}
        </span>
      )}
      {problem !== undefined && (
        <span id={`${id}-problem`} class="field-problem">
          <span class="unseen">Error: </span>
          {problem}
        </span>
      )}
    </>
  );
}

export function describedBy(
  id: string,
  spec: Pick<Spec<unknown>, 'hint'>,
  problem: string | undefined,
) {
  const ids = [
    ...(problem === undefined ? [] : [`${id}-problem`]),
    ...(spec.hint === undefined ? [] : [`${id}-hint`]),
  ];
  return ids.length === 0 ? undefined : ids.join(' ');
}

type BoxProps = {
  form: AnyForm;
  name: string;
  spec: Spec<unknown>;
  id: string;
  problem: string | undefined;
};

function Box({ form, name, spec, id, problem }: BoxProps) {
  const common = {
    id,
    name,
    value: form.typed[name] ?? '',
    'aria-invalid': problem === undefined ? undefined : true,
    'aria-describedby': describedBy(id, spec, problem),
  };
  const onInput = (event: { currentTarget: { value: string } }) =>
    form.set(name, event.currentTarget.value);
  if (spec.control === 'textarea') return <textarea {...common} rows={3} onInput={onInput} />;
  if (spec.control === 'select')
    return (
      <select {...common} onChange={onInput}>
        <option value="">Choose…</option>
        {spec.options?.map(({ value, label }) => (
          <option key={value} value={value}>
            {label}
          </option>
        ))}
      </select>
    );
  return (
    <>
      <input
        {...common}
        type={spec.control === 'day' ? 'date' : 'text'}
        class={spec.width === 'narrow' || spec.control === 'day' ? 'box-narrow' : undefined}
        inputMode={spec.inputMode ?? 'text'}
        autocomplete="off"
        autocapitalize={spec.capitals ? 'characters' : undefined}
        spellcheck={spec.control === 'number' || spec.capitals ? false : undefined}
        enterkeyhint="next"
        list={spec.suggestions ? `${id}-list` : undefined}
        onInput={onInput}
      />
      {spec.suggestions && (
        <datalist id={`${id}-list`}>
          {spec.suggestions.map((suggestion) => (
            <option key={suggestion} value={suggestion} />
          ))}
        </datalist>
      )}
    </>
  );
}
