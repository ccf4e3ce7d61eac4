import { useEffect, useRef } from 'preact/hooks';
import type { EntryNow } from '#shared/staleEntry.ts';
import { entryFacts } from '../entryWords.ts';
import { moment } from '../format.ts';
import { RuledTable } from './RuledTable.tsx';
import { type Difference, differences } from './staleFields.ts';
import type { Form } from './useForm.ts';

// biome-ignore lint/suspicious/noExplicitAny: the notice does not look at the values of its form
type Props = { form: Form<any> };

/** What was typed beside what someone else made of the entry meanwhile; nothing of either is lost. */
export function HistoryStale({ form }: Props) {
  const heading = useRef<HTMLHeadingElement>(null);
  const { stale } = form;
  useEffect(() => {
    if (stale !== undefined) heading.current?.focus();
  }, [stale]);
  if (stale === undefined) return null;
  return (
    <section class="amend" aria-label="Changed meanwhile">
      <h3 ref={heading} tabIndex={-1}>
        {stale.body.kind === 'void' ? 'Struck out' : 'Changed'} meanwhile by {stale.by}
      </h3>
      <p>{whatStands(stale)} What you typed is kept.</p>
      <RuledTable<Difference>
        caption="What you typed, and what stands now"
        quiet
        rows={differences(form, stale.body)}
        keyOf={({ name }) => name}
        columns={[
          { head: 'Field', names: true, cell: ({ label }) => label },
          { head: 'You typed', cell: ({ typed }) => typed },
          { head: 'Stands now', cell: ({ standing }) => standing },
        ]}
      />
      <p class="actions">
        <button type="button" class="button" onClick={form.saveOver}>
          Save mine in its place
        </button>
        <button
          type="button"
          class="button quiet"
          onClick={() => {
            form.startAfresh();
            location.reload();
          }}
        >
          Leave what stands now
        </button>
      </p>
    </section>
  );
}

function whatStands({ body, reason, receivedAt }: EntryNow): string {
  const why = reason === null ? '' : ` “${reason}”`;
  if (body.kind === 'void') return `It was struck out ${moment(receivedAt)}.${why}`;
  return `It now says: ${entryFacts(body)}. Written down ${moment(receivedAt)}.${why}`;
}
