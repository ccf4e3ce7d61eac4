import { useEffect, useState } from 'preact/hooks';
import { useLocation } from 'preact-iso/router';
import type { Person } from '#shared/people.ts';
import { AskField } from '../components/form/AskField.tsx';
import { AskForm } from '../components/form/AskForm.tsx';
import { useAsk } from '../components/form/useAsk.ts';
import { announce } from '../components/frame/Notice.tsx';
import { Page } from '../components/frame/Page.tsx';
import { KeepSignedIn } from '../components/people/KeepSignedIn.tsx';
import { activate, fetchPassphrase, makeFirstAccount } from '../peopleClient.ts';
import { enter, refreshSession } from '../session.ts';
import { entrance } from '../signedIn.ts';
import '../styles/people.css';

/** What the link carries behind its #, which no server and no log gets to see. */
function takeFragment(): URLSearchParams {
  const carried = new URLSearchParams(location.hash.slice(1));
  history.replaceState(history.state, '', location.pathname);
  return carried;
}

/** Where a person chooses a first password: the head brewer from the console, others by their code. */
export function Welcome() {
  const [carried] = useState(takeFragment);
  useEffect(() => {
    void refreshSession().catch(() => undefined);
  }, []);
  const how = entrance.value;
  if (how === null) return <Page title="Welcome" />;
  const { isThisComputer } = how;
  return how.isNew ? (
    <FirstAccount code={carried.get('code') ?? ''} isThisComputer={isThisComputer} />
  ) : (
    <ChoosePassword
      code={carried.get('activate') ?? ''}
      userName={carried.get('name') ?? ''}
      isThisComputer={isThisComputer}
    />
  );
}

const phrase = {
  label: 'Password',
  type: 'password',
  autocomplete: 'new-password',
} as const;

function useArrival(path: string, words: (person: Person) => string) {
  const { route } = useLocation();
  return async (person: Person) => {
    await enter(person);
    announce(words(person));
    route(path);
  };
}

function FirstAccount({ code, isThisComputer }: { code: string; isThisComputer: boolean }) {
  const [isKept, setKept] = useState(isThisComputer);
  const arrive = useArrival('/', ({ name }) => `Welcome, ${name}. You are the head brewer here.`);
  const ask = useAsk({
    key: 'first-account',
    specs: {
      code: { label: 'Code', hint: 'Printed where Barmbook was started.' },
      name: { label: 'Your name', hint: 'As it is to stand in the log.', autocomplete: 'name' },
      userName: {
        label: 'User name',
        hint: 'Small letters and digits. It is never changed.',
        autocomplete: 'username',
      },
      password: { ...phrase, hint: '15 characters or more: it opens everything.' },
    },
    start: { code },
    send: ({ code: typed = '', name = '', userName = '', password = '' }) =>
      makeFirstAccount({
        code: typed,
        name,
        userName: userName.trim().toLowerCase(),
        password,
        keep: isKept,
      }),
    onDone: (person) => void arrive(person),
  });
  return (
    <Page
      title="Make the first account"
      lead="You will be the head brewer: you set the limits, and you make the accounts of the others."
    >
      <AskForm ask={ask} save="Make the account">
        {code === '' && <AskField ask={ask} name="code" />}
        <AskField ask={ask} name="name" />
        <AskField ask={ask} name="userName" />
        <AskField ask={ask} name="password" suggest={fetchPassphrase} />
        <KeepSignedIn isKept={isKept} onChange={setKept} />
      </AskForm>
    </Page>
  );
}

type ChooseProps = { code: string; userName: string; isThisComputer: boolean };

function ChoosePassword({ code, userName, isThisComputer }: ChooseProps) {
  const [isKept, setKept] = useState(isThisComputer);
  const arrive = useArrival(
    '/',
    (person) => `Welcome, ${person.name}. Your user name is ${person.userName}.`,
  );
  const ask = useAsk({
    key: 'activate',
    specs: {
      code: { label: 'Code', hint: 'The head brewer gave it to you; it is good for 72 hours.' },
      password: { ...phrase, hint: '12 characters or more; 15 for a head brewer.' },
    },
    start: { code },
    send: ({ code: typed = '', password = '' }) =>
      activate({ code: typed, password, keep: isKept }),
    onDone: (person) => void arrive(person),
  });
  return (
    <Page
      title="Choose your password"
      lead={userName === '' ? undefined : `Your user name is ${userName}.`}
    >
      <AskForm ask={ask} save="Set the password">
        {userName !== '' && (
          <input
            class="unseen"
            value={userName}
            autocomplete="username"
            readOnly
            tabIndex={-1}
            aria-hidden="true"
          />
        )}
        {code === '' && <AskField ask={ask} name="code" />}
        <AskField ask={ask} name="password" suggest={fetchPassphrase} />
        <KeepSignedIn isKept={isKept} onChange={setKept} />
      </AskForm>
    </Page>
  );
}
