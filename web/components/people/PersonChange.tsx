import { useState } from 'preact/hooks';
import type { PersonView } from '#shared/people.ts';
import type { Holder } from '#shared/roles.ts';
import { changePerson } from '../../peopleClient.ts';
import { refreshSession } from '../../session.ts';
import { AskField } from '../form/AskField.tsx';
import { AskForm } from '../form/AskForm.tsx';
import { useAsk } from '../form/useAsk.ts';
import { announce } from '../frame/Notice.tsx';
import { proved } from './proof.ts';
import { asSent, RoleChoice } from './RoleChoice.tsx';

type Props = { person: PersonView; onChanged: () => void };

export function PersonChange({ person, onChanged }: Props) {
  const [held, setHeld] = useState<Holder>(person);
  const [isOpen, setOpen] = useState(person.isOpen);
  const ask = useAsk({
    key: `person-${person.userName}`,
    specs: { name: { label: 'Name', hint: 'Entries already made keep the name they have.' } },
    start: { name: person.name },
    send: ({ name = '' }) =>
      proved(() => changePerson(person.id, { name, ...asSent(held), open: isOpen })),
    onDone: () => {
      announce(`${person.name} is changed.`);
      void refreshSession().catch(() => undefined);
      onChanged();
    },
  });
  return (
    <AskForm ask={ask} save="Save the change">
      <AskField ask={ask} name="name" />
      <RoleChoice held={held} onChange={setHeld} />
      <div class="field">
        <label class="choice-option">
          <input
            type="checkbox"
            checked={!isOpen}
            onChange={(event) => setOpen(!event.currentTarget.checked)}
          />
          <span>
            Closed
            <small>Signed out at once, and cannot sign in; what they wrote keeps their name.</small>
          </span>
        </label>
      </div>
    </AskForm>
  );
}
