import { signal } from '@preact/signals';
import type { Asked } from '../../server.ts';

/** Set while a person is asked for the password again; called with whether it was given. */
export const proofAsked = signal<((isGiven: boolean) => void) | null>(null);

/** Sends a request; where the server wants the password again, asks for it and sends once more. */
export async function proved<T>(send: () => Promise<Asked<T>>): Promise<Asked<T>> {
  const first = await send();
  if (!('problem' in first) || first.problem.code !== 'prove_again') return first;
  const isGiven = await new Promise<boolean>((resolve) => {
    proofAsked.value = resolve;
  });
  proofAsked.value = null;
  return isGiven ? send() : first;
}
