import { useState } from 'preact/hooks';
import type { Recorded } from '#shared/views/recorded.ts';
import type { Setup } from '#shared/views/setup.ts';
import { day, gravity, volume } from '../../format.ts';
import { isOfAll, siteName, siteOfBrew } from '../../sites.ts';
import { AmendBox, AmendButtons, type Amending, StrikeOut } from '../form/Amend.tsx';
import { HistoryLink } from '../frame/HistoryLink.tsx';
import { announce } from '../frame/Notice.tsx';
import { Opens } from '../frame/Opens.tsx';
import { type Column, RuledTable } from '../frame/RuledTable.tsx';
import { NotBrewed } from './NotBrewed.tsx';
import { PlannedBrewForm } from './PlannedBrewForm.tsx';

type Brew = Recorded<'plannedBrew'>;
type Props = {
  setup: Setup;
  /** The last day the brews ahead are told of, further up on the page. */
  aheadUntil: string;
  onChanged: () => void;
};

export function PlannedBrews({ setup, aheadUntil, onChanged }: Props) {
  const [amending, setAmending] = useState<Amending<Brew> | null>(null);
  const stop = () => setAmending(null);
  const saved = (close: () => void, text: string) => () => {
    announce(text);
    close();
    onChanged();
  };
  const isAllAhead = setup.plannedBrews.every(({ onDay }) => onDay <= aheadUntil);
  const isToldTwice = isAllAhead && setup.notBrewed.length === 0;
  return (
    <section id="planned" class={isToldTwice ? 'not-printed' : undefined}>
      <h2>Planned brews</h2>
      {setup.notBrewed.length > 0 && <NotBrewed brews={setup.notBrewed} amend={setAmending} />}
      {setup.plannedBrews.length === 0 ? (
        <p class="empty">
          None. {setup.strains.length === 0 && <NeedsStrain />} With the next brews written here,
          Today says in time when there is no yeast for one.
        </p>
      ) : (
        <details class={isAllAhead ? 'more not-printed' : 'more'}>
          <summary>
            {setup.plannedBrews.length} planned
            <span class="not-printed">: see, correct or strike out</span>
          </summary>
          <RuledTable
            caption="Planned brews"
            quiet
            rows={setup.plannedBrews}
            keyOf={({ entryId }) => entryId}
            columns={columnsFor(setup, setAmending)}
          />
        </details>
      )}
      {amending && (
        <AmendBox
          key={`${amending.record.entryId} ${amending.how}`}
          title={`${amending.how === 'correct' ? 'Change' : 'Strike out'} ${nameOf(amending.record)}`}
          onLeave={stop}
        >
          {amending.how === 'strike' ? (
            <StrikeOut
              entryId={amending.record.entryId}
              onDone={saved(stop, 'The brew is struck out.')}
            />
          ) : (
            <PlannedBrewForm
              setup={setup}
              brew={amending.record}
              onSaved={saved(stop, 'The brew is changed.')}
            />
          )}
        </AmendBox>
      )}
      {setup.strains.length > 0 && (
        <Opens writes="plannedBrew" label="Plan a brew">
          {(close) => (
            <PlannedBrewForm setup={setup} onSaved={saved(close, 'The brew is planned.')} />
          )}
        </Opens>
      )}
    </section>
  );
}

function NeedsStrain() {
  return (
    <>
      A brew is planned for a strain: <a href="/setup#strains">add one in Setup</a> first.{' '}
    </>
  );
}

const nameOf = ({ beer, onDay }: Brew) => `${beer}, ${day(onDay)}`;

function columnsFor(
  { strains, vessels }: Setup,
  amend: (amending: Amending<Brew>) => void,
): Column<Brew>[] {
  const named = (records: readonly { id: string; name: string }[], id: string | undefined) =>
    records.find((record) => record.id === id)?.name ?? '';
  return [
    { head: 'Day', names: true, cell: ({ onDay }) => day(onDay) },
    { head: 'Beer', cell: ({ beer }) => beer },
    { head: 'Volume', numeric: true, cell: ({ volumeL }) => volume(volumeL) },
    { head: 'OG', numeric: true, cell: ({ originalGravitySg }) => gravity(originalGravitySg) },
    { head: 'Strain', cell: ({ strainId }) => named(strains, strainId) },
    ...(isOfAll.value
      ? [{ head: 'Site', cell: (brew: Brew) => siteName(siteOfBrew(brew, { vessels })) }]
      : []),
    { head: 'FV', cell: ({ vesselId }) => named(vessels, vesselId) },
    {
      head: 'Put right',
      pressed: true,
      cell: (brew) => (
        <AmendButtons
          what={nameOf(brew)}
          onCorrect={() => amend({ record: brew, how: 'correct' })}
          onStrike={() => amend({ record: brew, how: 'strike' })}
        >
          <HistoryLink id={brew.id} of={nameOf(brew)} />
        </AmendButtons>
      ),
    },
  ];
}
