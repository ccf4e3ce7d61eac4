import { useEffect, useRef } from 'preact/hooks';
import { BothVersions } from '../form/BothVersions.tsx';
import { type Difference, differences, whatStands } from '../form/staleFields.ts';
import type { Form } from '../form/useForm.ts';
import { RuledTable } from '../frame/RuledTable.tsx';

type Props = { form: Form };

/** What was typed beside what the log holds in its place; nothing of either is lost. */
export function HistoryStale({ form }: Props) {
  const heading = useRef<HTMLHeadingElement>(null);
  const { stale } = form;
  useEffect(() => {
    if (stale !== undefined) heading.current?.focus();
  }, [stale]);
  if (stale === undefined) return null;
  const { now, mine, hasArrived } = stale;
  if (hasArrived)
    return (
      <BothVersions mine={mine} now={now} onKeep={form.keepStored} onCorrect={form.saveOver} />
    );
  return (
    <section class="amend" aria-label="Changed meanwhile">
      <h3 ref={heading} tabIndex={-1}>
        {now.body.kind === 'void' ? 'Struck out' : 'Changed'} meanwhile by {now.by}
      </h3>
      <p>{whatStands(now)} What you typed is kept.</p>
      <RuledTable<Difference>
        caption="What you typed, and what stands now"
        quiet
        rows={differences(form, now.body)}
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
