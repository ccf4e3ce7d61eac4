import type { Recorded, Setup } from '#shared/views.ts';
import { day, gravity, volume } from '../format.ts';
import { StrikeOut } from './Amend.tsx';
import { announce } from './Notice.tsx';
import { Opens } from './Opens.tsx';
import { PlannedBrewForm } from './PlannedBrewForm.tsx';

type Props = { setup: Setup; onChanged: () => void };

export function PlannedBrews({ setup, onChanged }: Props) {
  const { plannedBrews, strains } = setup;
  const saved = (close: () => void, text: string) => () => {
    announce(text);
    close();
    onChanged();
  };
  return (
    <section id="planned">
      <h2>Planned brews</h2>
      {plannedBrews.length === 0 && (
        <p class="empty">
          None. With the next brews written here, Today says in time when there is no yeast for one.
        </p>
      )}
      {plannedBrews.map((brew) => (
        <article key={brew.entryId} class="entry">
          <h3>
            {day(brew.onDay)} <small>{brew.beer}</small>
          </h3>
          <p>{inShort(brew, setup)}</p>
          <div class="actions">
            <Opens label="Change" title={`Change ${brew.beer}, ${day(brew.onDay)}`}>
              {(close) => (
                <PlannedBrewForm
                  setup={setup}
                  brew={brew}
                  onSaved={saved(close, 'The brew is changed.')}
                />
              )}
            </Opens>
            <Opens label="Strike out" title={`Strike out ${brew.beer}, ${day(brew.onDay)}`}>
              {(close) => (
                <StrikeOut
                  entryId={brew.entryId}
                  onDone={saved(close, 'The brew is struck out.')}
                />
              )}
            </Opens>
          </div>
        </article>
      ))}
      {strains.length > 0 && (
        <Opens label="Plan a brew">
          {(close) => (
            <PlannedBrewForm setup={setup} onSaved={saved(close, 'The brew is planned.')} />
          )}
        </Opens>
      )}
    </section>
  );
}

function inShort(brew: Recorded<'plannedBrew'>, { strains, vessels }: Setup): string {
  const nameOf = (list: readonly { id: string; name: string }[], id: string | undefined) =>
    list.find((record) => record.id === id)?.name;
  const parts = [
    volume(brew.volumeL),
    `OG ${gravity(brew.originalGravitySg)}`,
    nameOf(strains, brew.strainId),
    nameOf(vessels, brew.vesselId),
  ];
  return parts.filter((part) => part !== undefined).join(' · ');
}
