import { useState } from 'preact/hooks';
import type { DeviceTokenView } from '#shared/people.ts';
import { moment } from '../../format.ts';
import {
  fetchDeviceTokens,
  makeDeviceToken,
  renewDeviceToken,
  revokeDeviceToken,
} from '../../peopleClient.ts';
import { setup } from '../../settings.ts';
import { atItsSite, withSite } from '../../sites.ts';
import { AskField } from '../form/AskField.tsx';
import { AskForm } from '../form/AskForm.tsx';
import { useAsk } from '../form/useAsk.ts';
import { Loaded } from '../frame/Loaded.tsx';
import { announce } from '../frame/Notice.tsx';
import { Opens } from '../frame/Opens.tsx';
import { RuledTable } from '../frame/RuledTable.tsx';
import { useLoad } from '../frame/useLoad.ts';
import { proved } from './proof.ts';
import { Secret } from './Secret.tsx';
import { SensorExample } from './SensorExample.tsx';

/** The sensors that may post readings, each with a token of its own. */
export function DeviceTokens() {
  const load = useLoad(fetchDeviceTokens);
  const [token, setToken] = useState<string>();
  const revoke = async ({ id, sensor }: DeviceTokenView) => {
    const asked = await proved(() => revokeDeviceToken(id));
    announce('problem' in asked ? asked.problem.detail : `The token of ${sensor} is revoked.`);
    load.reload();
  };
  const renew = async ({ id, sensor }: DeviceTokenView) => {
    const asked = await proved(() => renewDeviceToken(id));
    if ('problem' in asked) return announce(asked.problem.detail);
    setToken(asked.answer.token);
    announce(
      `${sensor} has a new token. The old one works until ${moment(asked.answer.oldUntil)}.`,
    );
    load.reload();
  };
  return (
    <section>
      <h2>Sensors</h2>
      <p class="prose">
        A sensor shows its token to post readings, and can do nothing else. Bound to an FV, it
        writes to whatever that FV holds.
      </p>
      {token !== undefined && <Secret label="Token" text={token} />}
      <SensorExample key={token} token={token} />
      <Loaded of={load}>
        {(tokens) => (
          <RuledTable
            caption="Tokens of sensors"
            quiet
            rows={tokens}
            keyOf={({ id }) => id}
            struck={({ revoked }) => revoked !== null}
            empty="No sensor has a token."
            columns={[
              { head: 'Sensor', cell: ({ sensor }) => sensor, names: true },
              {
                head: 'FV',
                cell: ({ vessel, siteId }) => (vessel === null ? 'any' : withSite(vessel, siteId)),
              },
              {
                head: 'Last used',
                cell: ({ lastUsed }) => (lastUsed === null ? 'never' : moment(lastUsed)),
              },
              {
                head: 'Renew or revoke',
                cell: (row) =>
                  row.revoked !== null ? (
                    `revoked ${moment(row.revoked)}`
                  ) : (
                    <>
                      <button type="button" class="link" onClick={() => void renew(row)}>
                        New token <span class="unseen">for {row.sensor}</span>
                      </button>{' '}
                      <button type="button" class="link" onClick={() => void revoke(row)}>
                        Revoke <span class="unseen">{row.sensor}</span>
                      </button>
                      {row.oldUntil !== null && ` old one until ${moment(row.oldUntil)}`}
                    </>
                  ),
              },
            ]}
          />
        )}
      </Loaded>
      <div class="actions">
        <Opens label="Make a token">
          {(close) => (
            <NewToken
              onMade={(fresh) => {
                setToken(fresh);
                load.reload();
                close();
              }}
            />
          )}
        </Opens>
      </div>
    </section>
  );
}

function NewToken({ onMade }: { onMade: (token: string) => void }) {
  const [vesselId, setVesselId] = useState('');
  const ask = useAsk({
    key: 'new-token',
    specs: { sensor: { label: 'Sensor', hint: 'What it is called, such as Float 3.' } },
    send: ({ sensor = '' }) =>
      proved(() => makeDeviceToken(vesselId === '' ? { sensor } : { sensor, vesselId })),
    onDone: ({ token }) => onMade(token),
  });
  return (
    <AskForm ask={ask} save="Make the token">
      <AskField ask={ask} name="sensor" />
      <div class="field">
        <label class="field-label" for="token-vessel">
          FV
        </label>
        <select
          id="token-vessel"
          value={vesselId}
          onChange={(event) => setVesselId(event.currentTarget.value)}
        >
          <option value="">Any: it names the FV itself</option>
          {setup.value?.vessels.map(({ id, name, siteId }) => (
            <option key={id} value={id}>
              {atItsSite(name, siteId)}
            </option>
          ))}
        </select>
      </div>
    </AskForm>
  );
}
