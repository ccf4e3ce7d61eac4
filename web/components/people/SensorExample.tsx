import { setup } from '../../settings.ts';

/** One reading as a sensor posts it, to be tried from any computer that reaches this address. */
export function SensorExample({ token }: { token: string | undefined }) {
  const vessels = setup.value?.vessels ?? [];
  const vessel = vessels.find(({ holds }) => holds !== null) ?? vessels[0];
  const reading = {
    vessel: vessel?.name ?? 'FV1',
    gravity: { value: 1021.5, unit: 'sg' },
    temperature: { value: 20.4, unit: '°C' },
  };
  const lines = [
    `curl ${location.origin}/api/readings \\`,
    `  -H 'authorization: Bearer ${token ?? 'TOKEN'}' \\`,
    "  -H 'content-type: application/json' \\",
    `  -d '${JSON.stringify(reading)}'`,
  ];
  return (
    <details class="more" open={token !== undefined}>
      <summary>How a sensor posts a reading</summary>
      <pre class="sensor-example">
        <code>{lines.join('\n')}</code>
      </pre>
      <p class="prose">
        Gravity, temperature or <code>ph</code>, whichever it measures. The server’s clock gives the
        time as it arrives; a reading from before says its age in seconds with <code>ageS</code>, so
        the sensor needs no clock of its own. Bound to an FV it may leave <code>vessel</code> out;
        the reading goes to the gyle that is in it. The rest stands in{' '}
        <a href="/api/docs">the description of the interface</a>.
      </p>
    </details>
  );
}
