import type { Setup } from '#shared/views/setup.ts';
import { HistoryLink } from '../frame/HistoryLink.tsx';
import { announce } from '../frame/Notice.tsx';
import { Opens } from '../frame/Opens.tsx';
import { BreweryForm } from './BreweryForm.tsx';
import { SetupPart } from './SetupPart.tsx';

type Props = { brewery: Setup['brewery']; onChanged: () => void };

type Named = NonNullable<Setup['brewery']>;

const unitsOf = ({ volumeUnit, massUnit, gravityUnit, temperatureUnit }: Named) =>
  [volumeUnit, massUnit, gravityUnit, temperatureUnit].join(', ');
const gistOf = (brewery: Named) => `${brewery.name}; in ${unitsOf(brewery)}`;

export function Brewery({ brewery, onChanged }: Props) {
  return (
    <SetupPart
      id="brewery"
      title="The brewery"
      gist={brewery === null ? 'not named yet' : gistOf(brewery)}
      isPressing={brewery === null}
    >
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
            <dd>{unitsOf(brewery)}</dd>
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
    </SetupPart>
  );
}
