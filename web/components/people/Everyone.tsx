import { useState } from 'preact/hooks';
import type { PersonView } from '#shared/people.ts';
import type { Holder } from '#shared/roles.ts';
import { moment } from '../../format.ts';
import {
  endSessionOf,
  fetchPeople,
  fetchSessionsOf,
  issueCode,
  makePerson,
} from '../../peopleClient.ts';
import { roleNames } from '../../roleWords.ts';
import { signedIn } from '../../signedIn.ts';
import { AskField } from '../form/AskField.tsx';
import { AskForm } from '../form/AskForm.tsx';
import { useAsk } from '../form/useAsk.ts';
import { Fold } from '../frame/Fold.tsx';
import { Loaded } from '../frame/Loaded.tsx';
import { announce } from '../frame/Notice.tsx';
import { Opens } from '../frame/Opens.tsx';
import { Tag } from '../frame/Status.tsx';
import { useLoad } from '../frame/useLoad.ts';
import { PersonChange } from './PersonChange.tsx';
import { proved } from './proof.ts';
import { asSent, RoleChoice } from './RoleChoice.tsx';
import { Secret } from './Secret.tsx';
import { SessionTable } from './SessionTable.tsx';

type Issued = { userName: string; code: string; until: string };

/** Everyone with an account: the head brewer makes, changes and closes them. */
export function Everyone() {
  const load = useLoad(fetchPeople);
  const [issued, setIssued] = useState<Issued>();
  const take = (fresh: Issued) => {
    setIssued(fresh);
    load.reload();
  };
  return (
    <section>
      <h2>Everyone</h2>
      {issued !== undefined && (
        <Secret
          label={`Link for ${issued.userName}, good until ${moment(issued.until)}`}
          text={`${location.origin}/welcome#activate=${issued.code}&name=${issued.userName}`}
        />
      )}
      <Loaded of={load}>
        {(people) => (
          <ul class="people side-by-side">
            {people.map((person) => (
              <li key={person.id}>
                <Someone person={person} onChanged={load.reload} onIssued={take} />
              </li>
            ))}
          </ul>
        )}
      </Loaded>
      <div class="actions">
        <Opens label="Make an account">
          {(close) => (
            <NewPerson
              onMade={(fresh) => {
                take(fresh);
                close();
              }}
            />
          )}
        </Opens>
      </div>
    </section>
  );
}

type SomeoneProps = {
  person: PersonView;
  onChanged: () => void;
  onIssued: (issued: Issued) => void;
};

function Someone({ person, onChanged, onIssued }: SomeoneProps) {
  const isSelf = person.id === signedIn.value?.id;
  const newCode = async () => {
    const asked = await proved(() => issueCode(person.id));
    if ('problem' in asked) announce(asked.problem.detail);
    else onIssued(asked.answer);
  };
  return (
    <Fold
      summary={
        <h3>
          {person.name} <small>{`${person.userName} · ${roleNames(person)}`}</small>{' '}
          {!person.isOpen && <Tag tone="spent">closed</Tag>}
        </h3>
      }
    >
      <p>{whereabouts(person)}</p>
      <div class="actions">
        <Opens
          label={`Change ${person.name}`}
          key={`${person.name} ${roleNames(person)} ${person.isOpen}`}
        >
          {(close) => (
            <PersonChange
              person={person}
              onChanged={() => {
                close();
                onChanged();
              }}
            />
          )}
        </Opens>
        {person.isOpen && !isSelf && (
          <button type="button" class="button quiet" onClick={() => void newCode()}>
            New code for {person.name}
          </button>
        )}
        {person.isOpen && person.hasPassword && !isSelf && (
          <Opens label={`Where ${person.name} is signed in`}>
            {() => <SessionsOf person={person} />}
          </Opens>
        )}
      </div>
    </Fold>
  );
}

function whereabouts({ hasPassword, codeUntil, lastSeen }: PersonView): string {
  if (codeUntil !== null) return `Has a code not yet used, good until ${moment(codeUntil)}.`;
  if (!hasPassword) return 'Has no password yet, and the code has run out.';
  return lastSeen === null ? 'Signed in nowhere.' : `Last here ${moment(lastSeen)}.`;
}

function SessionsOf({ person }: { person: PersonView }) {
  const load = useLoad((signal) => fetchSessionsOf(person.id, signal), [person.id]);
  return (
    <Loaded of={load}>
      {(sessions) => (
        <SessionTable
          caption={`Where ${person.name} is signed in`}
          sessions={sessions}
          onEnd={(id) => endSessionOf(person.id, id).then(load.reload)}
        />
      )}
    </Loaded>
  );
}

function NewPerson({ onMade }: { onMade: (issued: Issued) => void }) {
  const [held, setHeld] = useState<Holder>({ roles: ['cellar'], siteRoles: [] });
  const ask = useAsk({
    key: 'new-person',
    specs: {
      name: { label: 'Name', hint: 'As it is to stand in the log.' },
      userName: { label: 'User name', hint: 'Small letters and digits. It is never changed.' },
    },
    send: ({ name = '', userName = '' }) =>
      proved(() => makePerson({ name, userName: userName.trim().toLowerCase(), ...asSent(held) })),
    onDone: onMade,
  });
  return (
    <AskForm ask={ask} save="Make the account">
      <AskField ask={ask} name="name" />
      <AskField ask={ask} name="userName" />
      <RoleChoice held={held} onChange={setHeld} />
      <p class="prose">They choose their password themselves, by a link that you give them.</p>
    </AskForm>
  );
}
