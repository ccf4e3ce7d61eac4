import { useEffect, useState } from 'preact/hooks';
import type { SessionState } from '#shared/people.ts';
import { AskField } from '../components/form/AskField.tsx';
import { AskForm } from '../components/form/AskForm.tsx';
import { useAsk } from '../components/form/useAsk.ts';
import { Page } from '../components/frame/Page.tsx';
import { KeepSignedIn } from '../components/people/KeepSignedIn.tsx';
import { signIn } from '../peopleClient.ts';
import { roleNames } from '../roleWords.ts';
import { enter, refreshSession } from '../session.ts';
import { entrance } from '../signedIn.ts';
import '../styles/people.css';

const specs = {
  userName: { label: 'User name', autocomplete: 'username' },
  password: { label: 'Password', type: 'password', autocomplete: 'current-password' },
} as const;

/** Asks who is there: on arrival, or in place when a session has ended. */
export function SignIn({ goesOn }: { goesOn: boolean }) {
  const how = entrance.value;
  const [isAway, setAway] = useState(false);
  const ask = () =>
    refreshSession().then(
      () => setAway(false),
      () => setAway(true),
    );
  useEffect(() => {
    void ask();
  }, []);
  if (how === null && isAway)
    return (
      <Page title="Sign in" lead="The server could not be reached.">
        <p class="actions">
          <button type="button" class="button" onClick={() => void ask()}>
            Try again
          </button>
        </p>
      </Page>
    );
  if (how === null) return <Page title="Sign in" />;
  if (how.isNew) return <NoAccountYet />;
  return (
    <Page
      title={goesOn ? 'Sign in to go on' : 'Sign in'}
      lead={goesOn ? 'You were signed out. What you typed is kept, and comes back.' : undefined}
    >
      <SignInForm isThisComputer={how.isThisComputer} />
      {how.demo.length > 0 && <DemoAccounts people={how.demo} />}
    </Page>
  );
}

function SignInForm({ isThisComputer }: { isThisComputer: boolean }) {
  const [isKept, setKept] = useState(isThisComputer);
  const ask = useAsk({
    key: 'sign-in',
    specs,
    send: ({ userName = '', password = '' }) => signIn({ userName, password, keep: isKept }),
    onDone: (person) => void enter(person),
  });
  return (
    <AskForm ask={ask} save="Sign in">
      <AskField ask={ask} name="userName" />
      <AskField ask={ask} name="password" />
      <KeepSignedIn isKept={isKept} onChange={setKept} />
    </AskForm>
  );
}

function NoAccountYet() {
  return (
    <Page title="Make the first account" lead="Nobody has an account here yet.">
      <p class="prose">
        When Barmbook was started it printed an address with a one-time code. Open that address, or
        type the code.
      </p>
      <p class="actions">
        <a class="button" href="/welcome">
          Type the code
        </a>
      </p>
    </Page>
  );
}

function DemoAccounts({ people }: { people: SessionState['demo'] }) {
  const enterAs = async ({ userName, password }: SessionState['demo'][number]) => {
    const asked = await signIn({ userName, password, keep: true });
    if ('answer' in asked) await enter(asked.answer);
  };
  return (
    <section>
      <h2>The demo brewery</h2>
      <p class="prose">
        These people are invented. Their accounts are in the demo alone; the password of each is{' '}
        <code>{people[0]?.password}</code>.
      </p>
      <ul class="demo-accounts">
        {people.map((person) => (
          <li key={person.userName}>
            <button type="button" class="button quiet" onClick={() => void enterAs(person)}>
              Sign in as {person.name}
            </button>{' '}
            {roleNames(person)}, user name <code>{person.userName}</code>
          </li>
        ))}
      </ul>
    </section>
  );
}
