import { useState } from 'preact/hooks';
import type { Setup } from '#shared/views/setup.ts';
import { volume } from '../../format.ts';
import { isOfAll, siteName } from '../../sites.ts';
import { AmendBox } from '../form/Amend.tsx';
import { HistoryLink } from '../frame/HistoryLink.tsx';
import { announce } from '../frame/Notice.tsx';
import { Opens } from '../frame/Opens.tsx';
import { type Column, RuledTable } from '../frame/RuledTable.tsx';
import { namesInShort, SetupPart } from './SetupPart.tsx';
import { VesselForm } from './VesselForm.tsx';

type Vessel = Setup['vessels'][number];
type Props = {
  vessels: readonly Vessel[];
  /** The strain is there, and the first FV is what comes next. */
  isNext: boolean;
  onChanged: () => void;
};

export function Vessels({ vessels, isNext, onChanged }: Props) {
  const [changing, setChanging] = useState<Vessel | null>(null);
  const saved = (close: () => void, text: string) => () => {
    announce(text);
    close();
    onChanged();
  };
  const stop = () => setChanging(null);
  return (
    <SetupPart
      id="vessels"
      title="Fermenters"
      gist={namesInShort(vessels, 'none yet')}
      isPressing={isNext}
    >
      <RuledTable
        caption="FVs"
        quiet
        rows={vessels}
        keyOf={({ entryId }) => entryId}
        empty="None yet. A gyle is collected into an FV; add each one you ferment in."
        columns={columnsFor(setChanging)}
      />
      {changing && (
        <AmendBox key={changing.entryId} title={`Change ${changing.name}`} onLeave={stop}>
          <VesselForm vessel={changing} onSaved={saved(stop, 'The FV is changed.')} />
        </AmendBox>
      )}
      <Opens writes="vessel" label="Add an FV" startOpen={vessels.length === 0}>
        {(close) => <VesselForm onSaved={saved(close, 'The FV is written down.')} />}
      </Opens>
    </SetupPart>
  );
}

const columnsFor = (change: (vessel: Vessel) => void): Column<Vessel>[] => [
  { head: 'FV', names: true, cell: ({ name }) => name },
  ...(isOfAll.value ? [{ head: 'Site', cell: ({ siteId }: Vessel) => siteName(siteId) }] : []),
  {
    head: 'Capacity',
    numeric: true,
    cell: ({ capacityL }) => (capacityL === undefined ? '' : volume(capacityL)),
  },
  {
    head: 'Holds',
    cell: ({ holds }) =>
      holds === null ? (
        'nothing'
      ) : (
        <a class="link" href={`/ferments/${holds.fermentId}`}>
          gyle {holds.gyle}
        </a>
      ),
  },
  {
    head: 'Put right',
    pressed: true,
    cell: (vessel) => (
      <span class="amend-buttons">
        <button type="button" class="link" onClick={() => change(vessel)}>
          Change<span class="unseen"> {vessel.name}</span>
        </button>
        <HistoryLink id={vessel.id} of={vessel.name} />
      </span>
    ),
  },
];
