import type { SiteKey } from '#shared/sites/site.ts';
import { chosenSite } from '../../siteChoice.ts';
import { ownSites, siteElsewhere, siteLookedAt, sites } from '../../sites.ts';
import '../../styles/sites.css';

/** Where a record is, said on its page unless that is the very site looked at. */
export function SiteOfRecord({ site }: { site: SiteKey }) {
  const name = siteElsewhere(site);
  if (name === undefined) return null;
  if (siteLookedAt.value === null) return <p class="record-site">At {name}</p>;
  const own = ownSites.value.find((each) => each.name === name);
  const looked = sites.value.find(({ id }) => id === siteLookedAt.value)?.name;
  return (
    <p class="record-site">
      This is at <strong>{name}</strong>; the lists show {looked}.{' '}
      {own !== undefined && (
        <button
          type="button"
          class="link"
          onClick={() => {
            chosenSite.value = own.id;
          }}
        >
          Show {name}
        </button>
      )}
    </p>
  );
}

/** The name of the site behind a thing in a list of several sites. */
export function SiteTag({ site }: { site: SiteKey | undefined }) {
  const name = siteElsewhere(site);
  return name === undefined ? null : <span class="site-tag">{name}</span>;
}
