import { useState } from 'preact/hooks';
import { moment } from '../../format.ts';
import {
  changePassword,
  endOwnSession,
  fetchFeedKeys,
  fetchOwnSessions,
  fetchPassphrase,
  makeFeedKey,
  revokeFeedKey,
} from '../../peopleClient.ts';
import { roleNames } from '../../roleWords.ts';
import { signedIn } from '../../signedIn.ts';
import { ownSites, siteLookedAt, sites } from '../../sites.ts';
import { AskField } from '../form/AskField.tsx';
import { AskForm } from '../form/AskForm.tsx';
import { useAsk } from '../form/useAsk.ts';
import { Loaded } from '../frame/Loaded.tsx';
import { announce } from '../frame/Notice.tsx';
import { Opens } from '../frame/Opens.tsx';
import { RuledTable } from '../frame/RuledTable.tsx';
import { useLoad } from '../frame/useLoad.ts';
import { Secret } from './Secret.tsx';
import { SessionTable } from './SessionTable.tsx';

/** What a person does with their own account. */
export function OwnAccount() {
  const who = signedIn.value;
  return (
    <section>
      <h2>Your account</h2>
      <dl>
        <dt>Name</dt>
        <dd>{who?.name}</dd>
        <dt>User name</dt>
        <dd>{who?.userName}</dd>
        <dt>Role</dt>
        <dd>{who && roleNames(who)}</dd>
      </dl>
      <div class="actions">
        <Opens label="Change your password">{(close) => <NewPassword onDone={close} />}</Opens>
      </div>
      <h3>Where you are signed in</h3>
      <OwnSessions />
      <h3>Calendar feed</h3>
      <FeedKeys />
    </section>
  );
}

function NewPassword({ onDone }: { onDone: () => void }) {
  const ask = useAsk({
    key: 'new-password',
    specs: {
      current: {
        label: 'Present password',
        type: 'password',
        autocomplete: 'current-password',
      },
      password: {
        label: 'New password',
        hint: '12 characters or more; 15 for a head brewer.',
        type: 'password',
        autocomplete: 'new-password',
      },
    },
    send: ({ current = '', password = '' }) => changePassword({ current, password }),
    onDone: () => {
      announce('Your password is changed. Elsewhere you are signed out.');
      onDone();
    },
  });
  return (
    <AskForm ask={ask} save="Change it">
      <AskField ask={ask} name="current" />
      <AskField ask={ask} name="password" suggest={fetchPassphrase} />
    </AskForm>
  );
}

function OwnSessions() {
  const load = useLoad(fetchOwnSessions);
  return (
    <Loaded of={load}>
      {(sessions) => (
        <SessionTable
          caption="Where you are signed in"
          sessions={sessions}
          onEnd={(id) => endOwnSession(id).then(load.reload)}
        />
      )}
    </Loaded>
  );
}

function FeedKeys() {
  const load = useLoad(fetchFeedKeys);
  const [address, setAddress] = useState<string>();
  const site = sites.value.find(({ id }) => id === siteLookedAt.value) ?? ownSites.value[0];
  const make = async () => {
    const asked = await makeFeedKey();
    if ('problem' in asked) return announce(asked.problem.detail);
    const of = site === undefined ? '' : `&site=${site.id}`;
    setAddress(`${location.origin}/api/calendar.ics?key=${asked.answer.key}${of}`);
    load.reload();
  };
  const revoke = async (id: string) => {
    const asked = await revokeFeedKey(id);
    if ('problem' in asked) return announce(asked.problem.detail);
    setAddress(undefined);
    announce('That address shows nothing any more.');
    load.reload();
  };
  return (
    <>
      <p class="prose">
        A calendar that subscribes to this address shows brews, crops and plates ahead: in its
        settings look for a calendar “from a web address”. Whoever has the address can read them, so
        keep it to yourself, and revoke it here if it got about.
        {site !== undefined &&
          ` An address made now shows ${site.name}; for another site, choose that one first.`}
      </p>
      {address !== undefined && <Secret label="Address of your feed" text={address} />}
      <Loaded of={load}>
        {(keys) => (
          <RuledTable
            caption="Addresses in use"
            quiet
            rows={keys}
            keyOf={({ id }) => id}
            empty="No address was made yet."
            columns={[
              { head: 'Made', cell: ({ made }) => moment(made), names: true },
              {
                head: 'Last used',
                cell: ({ lastUsed }) => (lastUsed === null ? 'never' : moment(lastUsed)),
              },
              {
                head: 'Revoke',
                cell: ({ id, made }) => (
                  <button type="button" class="link" onClick={() => void revoke(id)}>
                    Revoke<span class="unseen"> the address made {moment(made)}</span>
                  </button>
                ),
              },
            ]}
          />
        )}
      </Loaded>
      <p class="actions">
        <button type="button" class="button quiet" onClick={() => void make()}>
          Make an address
        </button>
      </p>
    </>
  );
}
