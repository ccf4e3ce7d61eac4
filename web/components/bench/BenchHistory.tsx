import { useState } from 'preact/hooks';
import type { EntryOf } from '#shared/entries/entry.ts';
import { cellConcentration } from '#shared/science/cellCount.ts';
import type { JournalRow } from '../../apiClient.ts';
import { cellsPer, moment, percent } from '../../format.ts';
import { AmendBox, AmendButtons, StrikeOut } from '../form/Amend.tsx';
import { type Column, RuledTable } from '../frame/RuledTable.tsx';
import { CountForm, type LotInHand } from './CountForm.tsx';
import { fitsForm } from './countValues.ts';
import { StainForm, useStainForm } from './StainForm.tsx';

type Done = { entryId: string; happenedAt: string; by: string; body: EntryOf<'count' | 'stain'> };
type Amended = { done: Done; how: 'correct' | 'strike' };
type BenchHistoryProps = {
  lot: LotInHand;
  limitPercent: number;
  history: readonly JournalRow[];
  onAmended: (text: string) => void;
};

/** Counts and stains of a lot that stand, newest first. */
export function BenchHistory({ lot, limitPercent, history, onAmended }: BenchHistoryProps) {
  const [amended, setAmended] = useState<Amended | null>(null);
  const done = (text: string) => {
    setAmended(null);
    onAmended(text);
  };
  return (
    <>
      <h2>Counts and stains of {lot.code}</h2>
      <RuledTable
        caption={`Counts and stains of ${lot.code}, newest first`}
        quiet
        columns={columnsFor((row, how) => setAmended({ done: row, how }))}
        rows={standing(history)}
        keyOf={({ entryId }) => entryId}
        empty="None yet."
      />
      {amended && (
        <AmendBox
          key={`${amended.done.entryId} ${amended.how}`}
          title={`${amended.how === 'correct' ? 'Correct' : 'Strike out'} ${nameOf(amended.done)}`}
          onLeave={() => setAmended(null)}
        >
          {amended.how === 'strike' ? (
            <StrikeOut entryId={amended.done.entryId} onDone={() => done('Struck out.')} />
          ) : (
            <Correction
              lot={lot}
              limitPercent={limitPercent}
              done={amended.done}
              onSaved={() => done('Corrected.')}
            />
          )}
        </AmendBox>
      )}
    </>
  );
}

const nameOf = ({ body, happenedAt }: Done) =>
  `the ${body.kind === 'count' ? 'count' : 'stain'} of ${moment(happenedAt)}`;

/** Entries that nothing has corrected or struck out since. */
function standing(history: readonly JournalRow[]): Done[] {
  const superseded = new Set(history.map(({ supersedes }) => supersedes));
  return history
    .filter(({ id }) => !superseded.has(id))
    .flatMap(({ id, happenedAt, by, body }) =>
      body.kind === 'count' || body.kind === 'stain' ? [{ entryId: id, happenedAt, by, body }] : [],
    )
    .toSorted((a, b) => b.happenedAt.localeCompare(a.happenedAt));
}

function columnsFor(amend: (done: Done, how: Amended['how']) => void): Column<Done>[] {
  return [
    {
      head: 'When',
      names: true,
      cell: ({ happenedAt }) => <span class="together">{moment(happenedAt)}</span>,
    },
    { head: 'What', cell: ({ body }) => (body.kind === 'count' ? 'Count' : body.stain) },
    { head: 'Found', cell: ({ body }) => <span class="roomy">{foundIn(body)}</span> },
    { head: 'By', cell: ({ by }) => by },
    {
      head: 'Put right',
      pressed: true,
      cell: (done) =>
        done.body.kind === 'stain' || fitsForm(done.body) ? (
          <AmendButtons
            what={nameOf(done)}
            onCorrect={() => amend(done, 'correct')}
            onStrike={() => amend(done, 'strike')}
          />
        ) : (
          <button type="button" class="link" onClick={() => amend(done, 'strike')}>
            Strike out
          </button>
        ),
    },
  ];
}

function foundIn(body: Done['body']): string {
  if (body.kind === 'stain') {
    const { live, dead } = body;
    return `${percent((100 * live) / (live + dead), 1)} alive: ${live} live, ${dead} dead`;
  }
  const { cellsPerMl } = cellConcentration(body);
  const squares = body.fillings.flatMap((filling) => filling.squares);
  const cells = squares.reduce((sum, found) => sum + found, 0);
  const dilutions = [...new Set(body.fillings.map(({ dilutionFactor }) => dilutionFactor))];
  return `${cellsPer(cellsPerMl, body.basis)}: ${cells} cells in ${squares.length} squares, diluted ${dilutions.join(' and ')} times`;
}

type CorrectionProps = {
  lot: LotInHand;
  limitPercent: number;
  done: Done;
  onSaved: () => void;
};

function Correction({ lot, limitPercent, done, onSaved }: CorrectionProps) {
  const { body, ...entry } = done;
  if (body.kind === 'count')
    return (
      <CountForm
        lot={lot}
        last={undefined}
        corrects={{ ...entry, count: body }}
        onSaved={onSaved}
      />
    );
  return (
    <StainCorrection
      lot={lot}
      limitPercent={limitPercent}
      corrects={{ ...entry, stain: body }}
      onSaved={onSaved}
    />
  );
}

type StainCorrectionProps = {
  lot: LotInHand;
  limitPercent: number;
  corrects: { entryId: string; happenedAt: string; stain: EntryOf<'stain'> };
  onSaved: () => void;
};

function StainCorrection({ lot, limitPercent, corrects, onSaved }: StainCorrectionProps) {
  const form = useStainForm({ lot, stain: undefined, corrects, onSaved });
  return <StainForm form={form} lot={lot} limitPercent={limitPercent} />;
}
