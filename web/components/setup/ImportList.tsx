import { useState } from 'preact/hooks';
import { moment } from '../../format.ts';
import { type ImportRun, undoImport } from '../../importsClient.ts';
import { AmendBox } from '../form/Amend.tsx';
import { announce } from '../frame/Notice.tsx';
import { RuledTable } from '../frame/RuledTable.tsx';

/** What was brought in, each with its way back. */
export function ImportList({
  runs,
  onUndone,
}: {
  runs: readonly ImportRun[];
  onUndone: () => void;
}) {
  const [undoing, setUndoing] = useState<ImportRun | null>(null);
  return (
    <section>
      <h3>Imports</h3>
      <RuledTable
        caption="Imports, newest first"
        quiet
        rows={runs}
        keyOf={({ id }) => id}
        struck={({ standing }) => standing === 0}
        empty="Nothing has been brought in."
        columns={[
          { head: 'When', names: true, cell: ({ at }) => moment(at) },
          { head: 'Who', cell: ({ by }) => by },
          { head: 'Entries', numeric: true, cell: ({ entries }) => entries },
          { head: 'Records that stand', numeric: true, cell: ({ standing }) => standing },
          {
            head: '',
            cell: (run) =>
              run.standing > 0 && (
                <button type="button" class="link" onClick={() => setUndoing(run)}>
                  Undo<span class="unseen"> the import of {moment(run.at)}</span>
                </button>
              ),
          },
        ]}
      />
      {undoing !== null && (
        <Undo
          run={undoing}
          onLeave={() => setUndoing(null)}
          onUndone={() => {
            setUndoing(null);
            onUndone();
          }}
        />
      )}
    </section>
  );
}

type UndoProps = { run: ImportRun; onLeave: () => void; onUndone: () => void };

function Undo({ run, onLeave, onUndone }: UndoProps) {
  const [reason, setReason] = useState('');
  const [problem, setProblem] = useState<string | null>(null);
  const undo = async (event: Event) => {
    event.preventDefault();
    const result = await undoImport(run.id, { reason });
    if ('problem' in result)
      return setProblem(result.problem.errors[0]?.message ?? result.problem.detail);
    announce(`Import undone: ${result.answer.struckOut} records struck out`);
    onUndone();
  };
  return (
    <AmendBox title={`Undo the import of ${moment(run.at)}`} onLeave={onLeave}>
      <form onSubmit={undo} noValidate>
        <p class="prose">
          All {run.standing} records are struck out; the journal keeps what they said and why they
          went.
        </p>
        <div class={`field${problem === null ? '' : ' field-wrong'}`}>
          <label class="field-label" for="undo-reason">
            Why is it undone?
          </label>
          {problem !== null && (
            <span id="undo-problem" class="field-problem" role="alert">
              {problem}
            </span>
          )}
          <textarea
            id="undo-reason"
            rows={2}
            value={reason}
            aria-invalid={problem === null ? undefined : true}
            aria-describedby={problem === null ? undefined : 'undo-problem'}
            onInput={({ currentTarget }) => setReason(currentTarget.value)}
          />
        </div>
        <p class="actions">
          <button type="submit" class="button danger">
            Undo the import
          </button>
        </p>
      </form>
    </AmendBox>
  );
}
