import { presetPendingCheck } from '#shared/lots/holding.ts';
import type { StrainView } from '#shared/views/recorded.ts';
import { percent, rate, temperature } from '../../format.ts';
import { HistoryLink } from '../frame/HistoryLink.tsx';
import { announce } from '../frame/Notice.tsx';
import { Opens } from '../frame/Opens.tsx';
import { namesInShort, SetupPart } from './SetupPart.tsx';
import { StrainForm } from './StrainForm.tsx';

type Props = { strains: readonly StrainView[]; onChanged: () => void };

export function Strains({ strains, onChanged }: Props) {
  return (
    <SetupPart
      id="strains"
      title="Strains"
      gist={namesInShort(strains, 'none yet')}
      isPressing={strains.length === 0}
    >
      {strains.length === 0 && (
        <p class="empty">
          None yet. A strain carries the limits by which its yeast is judged; usual values are
          filled in for you to change.
        </p>
      )}
      <div class="side-by-side">
        {strains.map((strain) => (
          <Strain key={strain.entryId} strain={strain} onChanged={onChanged} />
        ))}
      </div>
      <Opens writes="strain" label="Add a strain" startOpen={strains.length === 0}>
        {(close) => (
          <StrainForm
            onSaved={() => {
              announce('The strain is written down.');
              close();
              onChanged();
            }}
          />
        )}
      </Opens>
    </SetupPart>
  );
}

function Strain({ strain, onChanged }: { strain: StrainView; onChanged: () => void }) {
  const band = (low: number, high: number) => `${temperature(low)} to ${temperature(high)}`;
  return (
    <article class="entry">
      <h3>
        {strain.name} <small>code {strain.code}</small>{' '}
        <HistoryLink id={strain.id} of={strain.name} />
      </h3>
      <dl>
        <dt>Cropped from</dt>
        <dd>{strain.crops}</dd>
        <dt>Pitching rate</dt>
        <dd>{rate(strain.rateMillionPerMlPerPlato)}</dd>
        <dt>Ferments at</dt>
        <dd>{band(strain.tempLowC, strain.tempHighC)}</dd>
        <dt>Stored at</dt>
        <dd>
          {band(strain.storeLowC, strain.storeHighC)}, at most {strain.maxStorageDays} days
        </dd>
        <dt>Limits</dt>
        <dd>
          {percent(strain.minViabilityPercent)} alive or more, {strain.maxGenerations} generations,
          count stale after {strain.staleCountHours} h
        </dd>
        <dt>Fresh culture takes</dt>
        <dd>{strain.leadTimeDays} days</dd>
        <dt>Routine plate not yet read</dt>
        <dd>
          {(strain.pendingRoutineCheck ?? presetPendingCheck) === 'warn'
            ? 'warns'
            : 'holds the lot'}
        </dd>
      </dl>
      <Opens writes="strain" label={`Change ${strain.name}`}>
        {(close) => (
          <StrainForm
            strain={strain}
            onSaved={() => {
              announce(`${strain.name} is changed.`);
              close();
              onChanged();
            }}
          />
        )}
      </Opens>
    </article>
  );
}
