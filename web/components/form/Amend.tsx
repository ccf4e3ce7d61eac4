import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { mayStrikeHere } from '../../mayWrite.ts';
import { useFocusBack } from '../frame/useFocusBack.ts';
import { Field } from './Field.tsx';
import { Form } from './Form.tsx';
import { paragraph } from './fields.ts';
import { useForm } from './useForm.ts';

/** A record someone wants to put right, and how. */
export type Amending<R> = { record: R; how: 'correct' | 'strike' };

type AmendButtonsProps = {
  /** What is put right, for those who hear the buttons out of their row. */
  what: string;
  onCorrect: () => void;
  onStrike: () => void;
  /** What else leads on from the row. */
  children?: ComponentChildren;
};

export function AmendButtons({ what, onCorrect, onStrike, children }: AmendButtonsProps) {
  return (
    <span class="amend-buttons">
      <button type="button" class="link" onClick={onCorrect}>
        Correct<span class="unseen"> {what}</span>
      </button>
      {mayStrikeHere() && (
        <button type="button" class="link" onClick={onStrike}>
          Strike out<span class="unseen"> {what}</span>
        </button>
      )}
      {children}
    </span>
  );
}

type AmendBoxProps = { title: string; onLeave: () => void; children: ComponentChildren };

/** Where a correction is written; takes the focus when it opens and gives it back when it closes. */
export function AmendBox({ title, onLeave, children }: AmendBoxProps) {
  const heading = useRef<HTMLHeadingElement>(null);
  useFocusBack();
  useEffect(() => {
    heading.current?.focus();
    heading.current?.scrollIntoView({ block: 'nearest' });
  }, []);
  return (
    <section class="amend" aria-label={title}>
      <h3 ref={heading} tabIndex={-1}>
        {title}
      </h3>
      {children}
      <p>
        <button type="button" class="link" onClick={onLeave}>
          Leave it as it was
        </button>
      </p>
    </section>
  );
}

const strikeFields = {
  why: paragraph({
    label: 'Why is it struck out?',
    hint: 'The entry stays legible in the history; nothing is worked out from it any more.',
  }),
};

/** Strikes an entry out, for a reason. */
export function StrikeOut({ entryId, onDone }: { entryId: string; onDone: () => void }) {
  const form = useForm({
    key: `strike.${entryId}`,
    fields: strikeFields,
    entry: ({ why }) => ({ kind: 'void', supersedes: entryId, reason: why }),
    fieldAt: (path) => (path === 'reason' ? 'why' : undefined),
    onSaved: onDone,
  });
  return (
    <Form form={form} save="Strike it out" when={false} danger>
      <Field form={form} name="why" />
    </Form>
  );
}
