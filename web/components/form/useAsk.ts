import { useState } from 'preact/hooks';
import type { Asked, Problem } from '../../server.ts';
import { formProblems } from './formProblems.ts';

type AskSpec = {
  label: string;
  hint?: string;
  optional?: boolean;
  type?: 'text' | 'password';
  autocomplete?: 'username' | 'current-password' | 'new-password' | 'name';
};
type Found = { name: string; message: string };

export type Ask = {
  key: string;
  specs: Record<string, AskSpec>;
  typed: Record<string, string>;
  set: (name: string, text: string) => void;
  problems: readonly Found[];
  /** What the server said, where the page's summary does not. */
  refusal: string | undefined;
  isSending: boolean;
  submit: (event: Event) => void;
};

type Options<T> = {
  key: string;
  specs: Record<string, AskSpec>;
  start?: Record<string, string>;
  send: (typed: Record<string, string>) => Promise<Asked<T>>;
  onDone: (answer: T) => void;
  /** Keeps out of the summary on top of the page, as in a dialog. */
  isQuiet?: boolean;
};

/** A form that is not an entry, about access; nothing typed into it is kept on the device. */
export function useAsk<T>({ key, specs, start = {}, send, onDone, isQuiet }: Options<T>): Ask {
  const [typed, setTyped] = useState(start);
  const [problems, setProblems] = useState<readonly Found[]>([]);
  const [isSending, setSending] = useState(false);
  const [refusal, setRefusal] = useState<string>();
  const show = (items: Found[], headline?: string) => {
    setProblems(items);
    setRefusal(headline);
    if (!isQuiet)
      formProblems.value = items.length > 0 || headline ? { form: key, headline, items } : null;
  };
  const submit = (event: Event) => {
    event.preventDefault();
    if (isSending) return;
    const blank = blanks(specs, typed);
    show(blank);
    if (blank.length > 0) return;
    setSending(true);
    void send(typed).then((asked) => {
      setSending(false);
      if ('problem' in asked) return show(placed(asked.problem, specs), asked.problem.detail);
      setTyped(start);
      onDone(asked.answer);
    });
  };
  const set = (name: string, text: string) => setTyped((now) => ({ ...now, [name]: text }));
  return { key, specs, typed, set, problems, refusal, isSending, submit };
}

function blanks(specs: Record<string, AskSpec>, typed: Record<string, string>): Found[] {
  return Object.entries(specs)
    .filter(([name, { optional }]) => !optional && (typed[name] ?? '').trim() === '')
    .map(([name, { label }]) => ({
      name,
      message: `Enter the ${label.slice(0, 1).toLowerCase()}${label.slice(1)}`,
    }));
}

const placed = ({ errors }: Problem, specs: Record<string, AskSpec>): Found[] =>
  errors.map(({ path, message }) => ({ name: path in specs ? path : '', message }));
