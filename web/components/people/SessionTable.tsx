import type { SessionView } from '#shared/people.ts';
import { moment } from '../../format.ts';
import { RuledTable } from '../frame/RuledTable.tsx';

type Props = {
  caption: string;
  sessions: readonly SessionView[];
  onEnd: (id: string) => Promise<unknown>;
};

export function SessionTable({ caption, sessions, onEnd }: Props) {
  return (
    <RuledTable
      caption={caption}
      quiet
      rows={sessions}
      keyOf={({ id }) => id}
      empty="Nowhere just now."
      columns={[
        {
          head: 'Device',
          cell: ({ device, isThis }) => (isThis ? `${device} (this one)` : device),
          names: true,
        },
        { head: 'Since', cell: ({ since }) => moment(since) },
        { head: 'Last used', cell: ({ lastSeen }) => moment(lastSeen) },
        {
          head: 'End',
          cell: ({ id, isThis }) =>
            isThis ? null : (
              <button type="button" class="link" onClick={() => void onEnd(id)}>
                Sign it out
              </button>
            ),
        },
      ]}
    />
  );
}
