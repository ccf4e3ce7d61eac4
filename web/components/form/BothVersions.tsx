import { useEffect, useRef } from 'preact/hooks';
import type { Entry } from '#shared/entries/entry.ts';
import { entryChanges } from '#shared/entryChanges.ts';
import type { EntryNow } from '#shared/staleEntry.ts';
import { factWords, fieldWords } from '../../factWords.ts';
import { RuledTable } from '../frame/RuledTable.tsx';
import { whatStands } from './staleFields.ts';

type Props = {
  /** What was to be saved. */
  mine: { id: string; entry: Entry };
  /** What the log holds in its place. */
  now: EntryNow;
  onKeep: () => void;
  onCorrect: () => void;
};

/** What the log gives an entry by itself; nobody left these out. */
const givenByLog = new Set(['code', 'lotIds', 'fermentIds']);

/** An entry, and what the log holds in its place, side by side: the person chooses. */
export function BothVersions({ mine, now, onKeep, onCorrect }: Props) {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), []);
  const isOthers = mine.entry.supersedes !== undefined && now.id !== mine.id;
  const title = isOthers ? `Changed meanwhile by ${now.by}` : 'It had arrived already';
  const rows = entryChanges(now.body, mine.entry)
    .filter(({ field, after }) => after !== undefined || !givenByLog.has(field))
    .map(({ field, before, after }) => ({
      field,
      stored: factWords(field, before),
      typed: factWords(field, after),
    }))
    // Two moments within one minute read the same.
    .filter(({ stored, typed }) => stored !== typed);
  return (
    <section class="amend" aria-label={title}>
      <h3 ref={heading} tabIndex={-1}>
        {title}
      </h3>
      <p>
        {!isOthers && 'The log took it the first time, and only the answer was lost. '}
        {whatStands(now)} What you typed is kept.
      </p>
      {now.body.kind !== 'void' && (
        <RuledTable
          caption="What the log holds, and what you typed"
          quiet
          rows={rows}
          keyOf={({ field }) => field}
          empty="Both say the same."
          columns={[
            { head: 'Fact', names: true, cell: ({ field }) => fieldWords(field) },
            { head: 'In the log', cell: ({ stored }) => stored },
            { head: 'Yours', cell: ({ typed }) => typed },
          ]}
        />
      )}
      <p class="actions">
        <button type="button" class="button" onClick={onCorrect}>
          Save mine as a correction
        </button>
        <button type="button" class="button quiet" onClick={onKeep}>
          Keep what the log holds
        </button>
      </p>
    </section>
  );
}
