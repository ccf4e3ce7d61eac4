import type { Setup } from '#shared/views.ts';
import { volume } from '../format.ts';
import { announce } from './Notice.tsx';
import { Opens } from './Opens.tsx';
import { RuledTable } from './RuledTable.tsx';
import { VesselForm } from './VesselForm.tsx';

type Props = { vessels: Setup['vessels']; onChanged: () => void };
type Vessel = Setup['vessels'][number];

export function Vessels({ vessels, onChanged }: Props) {
  const saved = (close: () => void, text: string) => () => {
    announce(text);
    close();
    onChanged();
  };
  return (
    <section id="vessels">
      <h2>Fermenters</h2>
      <RuledTable
        caption="FVs"
        quiet
        rows={vessels}
        keyOf={({ entryId }) => entryId}
        empty="None yet. A gyle is collected into an FV; add each one you ferment in."
        columns={[
          { head: 'FV', names: true, cell: ({ name }: Vessel) => name },
          {
            head: 'Capacity',
            numeric: true,
            cell: ({ capacityL }) => (capacityL === undefined ? '' : volume(capacityL)),
          },
          {
            head: 'Holds',
            cell: ({ holds }) =>
              holds === null ? (
                'empty'
              ) : (
                <a href={`/ferments/${holds.fermentId}`}>gyle {holds.gyle}</a>
              ),
          },
          {
            head: 'Change',
            cell: (vessel) => (
              <Opens label="Change" title={`Change ${vessel.name}`}>
                {(close) => (
                  <VesselForm vessel={vessel} onSaved={saved(close, 'The FV is changed.')} />
                )}
              </Opens>
            ),
          },
        ]}
      />
      <Opens label="Add an FV" quiet={vessels.length > 0}>
        {(close) => <VesselForm onSaved={saved(close, 'The FV is written down.')} />}
      </Opens>
    </section>
  );
}
