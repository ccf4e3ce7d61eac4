import type { ComponentChildren } from 'preact';
import type { Ask } from './useAsk.ts';

type Props = { ask: Ask; save: string; danger?: boolean; children?: ComponentChildren };

export function AskForm({ ask, save, danger = false, children }: Props) {
  return (
    <form class="form" noValidate onSubmit={ask.submit}>
      {children}
      <p class="save">
        <button
          type="submit"
          class={danger ? 'button danger' : 'button'}
          aria-disabled={ask.isSending}
        >
          {ask.isSending ? 'One moment…' : save}
        </button>
      </p>
    </form>
  );
}
