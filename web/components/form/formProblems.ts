import { signal } from '@preact/signals';

type FormProblems = {
  form: string;
  /** What the server said, when it was the server that refused. */
  headline: string | undefined;
  items: { name: string; message: string }[];
};

/** What is wrong with the form last submitted; shown on top of the page. */
export const formProblems = signal<FormProblems | null>(null);

export const fieldId = (form: string, name: string) => `${form}-${name}`.replace(/[^\w-]/g, '_');
