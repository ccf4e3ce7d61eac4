import type { Setup } from '#shared/views/setup.ts';
import { HistoryLink } from '../frame/HistoryLink.tsx';
import { announce } from '../frame/Notice.tsx';
import { Opens } from '../frame/Opens.tsx';
import { BreweryForm } from './BreweryForm.tsx';

type Props = { brewery: Setup['brewery']; onChanged: () => void };

export function Brewery({ brewery, onChanged }: Props) {
  return (
    <section id="brewery">
      <h2>The brewery</h2>
      {brewery === null ? (
        <BreweryForm
          brewery={null}
          onSaved={() => {
            announce('The brewery is written down.');
            onChanged();
          }}
        />
      ) : (
        <>
          <dl>
            <dt>Name</dt>
            <dd>{brewery.name}</dd>
            <dt>Units</dt>
            <dd>
              {brewery.volumeUnit}, {brewery.massUnit}, {brewery.gravityUnit},{' '}
              {brewery.temperatureUnit}
            </dd>
            <dt>Fresh culture</dt>
            <dd>counts as generation {brewery.firstGeneration}</dd>
            <dt>Time zone</dt>
            <dd>{brewery.timeZone}</dd>
            <dt>Counting</dt>
            <dd>
              buds: {brewery.budRule}; lines: {brewery.edgeRule}
            </dd>
          </dl>
          <div class="actions">
            <Opens writes="brewery" label="Change the brewery" key={brewery.entryId}>
              {(close) => (
                <BreweryForm
                  brewery={brewery}
                  onSaved={() => {
                    announce('The brewery is changed.');
                    close();
                    onChanged();
                  }}
                />
              )}
            </Opens>
            <HistoryLink id={brewery.id} of="the brewery" />
          </div>
        </>
      )}
    </section>
  );
}
