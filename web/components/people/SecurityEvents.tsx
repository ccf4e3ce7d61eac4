import { moment } from '../../format.ts';
import { fetchSecurityEvents } from '../../peopleClient.ts';
import { Loaded } from '../frame/Loaded.tsx';
import { RuledTable } from '../frame/RuledTable.tsx';
import { useLoad } from '../frame/useLoad.ts';

/** What happened at the door. */
export function SecurityEvents() {
  const load = useLoad(fetchSecurityEvents);
  return (
    <Loaded of={load}>
      {(events) => (
        <RuledTable
          caption="The last 200 events of access; kept for 400 days"
          rows={events}
          keyOf={({ seq }) => String(seq)}
          columns={[
            { head: 'When', cell: ({ at }) => moment(at), names: true },
            { head: 'What', cell: ({ what }) => what },
            { head: 'Who', cell: ({ userName }) => userName ?? '' },
            { head: 'About', cell: ({ detail }) => detail ?? '' },
            { head: 'From', cell: ({ address }) => address ?? '' },
          ]}
        />
      )}
    </Loaded>
  );
}
