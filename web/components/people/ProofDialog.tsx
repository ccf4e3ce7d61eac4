import { useEffect, useRef } from 'preact/hooks';
import { giveProof } from '../../peopleClient.ts';
import { AskField } from '../form/AskField.tsx';
import { AskForm } from '../form/AskForm.tsx';
import { useAsk } from '../form/useAsk.ts';
import { useFocusBack } from '../frame/useFocusBack.ts';
import { proofAsked } from './proof.ts';

const specs = {
  password: { label: 'Your password', type: 'password', autocomplete: 'current-password' },
} as const;

/** Asks for the password again before an account or a token is changed. */
export function ProofDialog() {
  const answer = proofAsked.value;
  return answer === null ? null : <Proof onAnswer={answer} />;
}

function Proof({ onAnswer }: { onAnswer: (isGiven: boolean) => void }) {
  const dialog = useRef<HTMLDialogElement>(null);
  useFocusBack();
  useEffect(() => dialog.current?.showModal(), []);
  const ask = useAsk({
    key: 'proof',
    specs,
    send: ({ password = '' }) => giveProof(password),
    onDone: () => onAnswer(true),
    isQuiet: true,
  });
  return (
    <dialog
      ref={dialog}
      class="proof"
      aria-labelledby="proof-title"
      onCancel={() => onAnswer(false)}
    >
      <h2 id="proof-title">Your password once more</h2>
      <p>Accounts and tokens are changed only by whoever gave the password within five minutes.</p>
      {ask.refusal !== undefined && (
        <p class="field-problem" role="alert">
          {ask.refusal}
        </p>
      )}
      <AskForm ask={ask} save="Go on">
        <AskField ask={ask} name="password" />
      </AskForm>
      <p>
        <button type="button" class="link" onClick={() => onAnswer(false)}>
          Leave it
        </button>
      </p>
    </dialog>
  );
}
