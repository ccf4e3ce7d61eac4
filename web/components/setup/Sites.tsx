import { useState } from 'preact/hooks';
import type { Recorded } from '#shared/views/recorded.ts';
import { sitesInOrder } from '../../sites.ts';
import { AmendBox, AmendButtons, type Amending, StrikeOut } from '../form/Amend.tsx';
import { HistoryLink } from '../frame/HistoryLink.tsx';
import { announce } from '../frame/Notice.tsx';
import { Opens } from '../frame/Opens.tsx';
import { type Column, RuledTable } from '../frame/RuledTable.tsx';
import { namesInShort, SetupPart } from './SetupPart.tsx';
import { FirstSitesForm, SiteForm } from './SiteForm.tsx';

type Site = Recorded<'site'>;
type Props = { sites: readonly Site[]; homeId: string | null; onChanged: () => void };

/** The places the brewery brews at; a brewery with one need never open this. */
export function Sites({ sites, homeId, onChanged }: Props) {
  const saved = (close: () => void, text: string) => () => {
    announce(text);
    close();
    onChanged();
  };
  return (
    <SetupPart id="sites" title="Sites" gist={namesInShort(sites, 'you brew at one place')}>
      <p class="prose">
        A site is a place with FVs and a yeast store of its own. Its lots, gyles and plans stay
        together; strains, media and people are shared, and yeast is sent from one site to another.
      </p>
      {sites.length === 0 ? (
        <>
          <p class="empty">
            You brew at one place: there is nothing to do here, and sites show nowhere else.
          </p>
          <Opens writes="site" label="Brew at a second site">
            {(close) => (
              <FirstSitesForm
                onSaved={saved(
                  close,
                  'The sites are written down. Choose one at the top of any page.',
                )}
              />
            )}
          </Opens>
        </>
      ) : (
        <>
          <SiteTable sites={sitesInOrder(sites, homeId)} homeId={homeId} saved={saved} />
          <Opens writes="site" label="Add a site">
            {(close) => <SiteForm onSaved={saved(close, 'The site is written down.')} />}
          </Opens>
        </>
      )}
    </SetupPart>
  );
}

type TableProps = {
  sites: readonly Site[];
  homeId: string | null;
  saved: (close: () => void, text: string) => () => void;
};

function SiteTable({ sites, homeId, saved }: TableProps) {
  const [amending, setAmending] = useState<Amending<Site> | null>(null);
  const stop = () => setAmending(null);
  return (
    <>
      <RuledTable
        caption="Sites"
        quiet
        rows={sites}
        keyOf={({ entryId }) => entryId}
        columns={columnsFor(homeId, setAmending)}
      />
      {amending && (
        <AmendBox
          key={`${amending.record.entryId} ${amending.how}`}
          title={`${amending.how === 'correct' ? 'Change' : 'Strike out'} ${amending.record.name}`}
          onLeave={stop}
        >
          {amending.how === 'strike' ? (
            <StrikeOut
              entryId={amending.record.entryId}
              onDone={saved(stop, 'The site is struck out.')}
            />
          ) : (
            <SiteForm site={amending.record} onSaved={saved(stop, 'The site is changed.')} />
          )}
        </AmendBox>
      )}
    </>
  );
}

const columnsFor = (
  homeId: string | null,
  amend: (amending: Amending<Site>) => void,
): Column<Site>[] => [
  { head: 'Site', names: true, cell: ({ name }) => name },
  { head: 'Code', cell: ({ code }) => code },
  { head: 'Time zone', cell: ({ timeZone }) => timeZone ?? 'as the brewery' },
  {
    head: 'Holds',
    cell: ({ id }) => (id === homeId ? 'what was written before there were sites' : 'its own'),
  },
  {
    head: 'Put right',
    pressed: true,
    cell: (site) => (
      <AmendButtons
        what={site.name}
        onCorrect={() => amend({ record: site, how: 'correct' })}
        onStrike={() => amend({ record: site, how: 'strike' })}
      >
        <HistoryLink id={site.id} of={site.name} />
      </AmendButtons>
    ),
  },
];
