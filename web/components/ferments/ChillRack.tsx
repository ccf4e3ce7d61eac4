import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import type { FermentStanding } from '#shared/views/ferments.ts';
import { gravity, moment, temperature } from '../../format.ts';
import { AmendBox, AmendButtons, StrikeOut } from '../form/Amend.tsx';
import { ChillForm, RackForm } from './ChillRackForms.tsx';

type ChillRackProps = {
  ferment: FermentStanding;
  onSaved: (text: string, warnings: readonly string[]) => void;
};

/** Chilling and racking: asked for until done, then shown and open to correction. */
export function ChillRack({ ferment, onSaved }: ChillRackProps) {
  const { id, chill, rack } = ferment;
  return (
    <>
      {chill === null ? (
        rack === null && (
          <details class="job">
            <summary>Chill it</summary>
            <ChillForm
              fermentId={id}
              onSaved={(warnings) => onSaved('Chilling is written down.', warnings)}
            />
          </details>
        )
      ) : (
        <Done
          what="the chilling"
          entryId={chill.entryId}
          text={`Chilled ${moment(chill.happenedAt)}${chill.toTempC === undefined ? '' : `, to ${temperature(chill.toTempC)}`}, by ${chill.by}.`}
          correct={
            <ChillForm
              fermentId={id}
              record={chill}
              onSaved={(warnings) => onSaved('Corrected.', warnings)}
            />
          }
          onStruck={() => onSaved('Struck out.', [])}
        />
      )}
      {rack === null ? (
        <details class="job">
          <summary>Rack it</summary>
          <RackForm
            fermentId={id}
            onSaved={(warnings) => onSaved('Racking is written down.', warnings)}
          />
        </details>
      ) : (
        <Done
          what="the racking"
          entryId={rack.entryId}
          text={`Racked ${moment(rack.happenedAt)}${rack.gravitySg === undefined ? '' : ` at ${gravity(rack.gravitySg)}`}, by ${rack.by}. ${batchesOf(rack.batches)}`}
          correct={
            <RackForm
              fermentId={id}
              record={rack}
              onSaved={(warnings) => onSaved('Corrected.', warnings)}
            />
          }
          onStruck={() => onSaved('Struck out.', [])}
        />
      )}
    </>
  );
}

const batchesOf = (batches: readonly string[]) =>
  batches.length === 0 ? 'No cask batch given.' : `Cask batches: ${batches.join(', ')}.`;

type DoneProps = {
  what: string;
  entryId: string;
  text: string;
  correct: ComponentChildren;
  onStruck: () => void;
};

function Done({ what, entryId, text, correct, onStruck }: DoneProps) {
  const [how, setHow] = useState<'correct' | 'strike' | null>(null);
  return (
    <>
      <p class="done">
        {text}{' '}
        <AmendButtons
          what={what}
          onCorrect={() => setHow('correct')}
          onStrike={() => setHow('strike')}
        />
      </p>
      {how !== null && (
        <AmendBox
          key={`${entryId} ${how}`}
          title={how === 'correct' ? `Correct ${what}` : `Strike out ${what}`}
          onLeave={() => setHow(null)}
        >
          {how === 'correct' ? (
            correct
          ) : (
            <StrikeOut
              entryId={entryId}
              onDone={() => {
                setHow(null);
                onStruck();
              }}
            />
          )}
        </AmendBox>
      )}
    </>
  );
}
