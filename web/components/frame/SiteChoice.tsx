import { allSites, chosenSite } from '../../siteChoice.ts';
import { maySeeAll, ownSites, siteLookedAt, sites } from '../../sites.ts';
import '../../styles/sites.css';

/** Which site the pages show; nothing at all in a brewery with one. */
export function SiteChoice() {
  if (sites.value.length === 0) return null;
  const own = ownSites.value;
  const [only, ...others] = own;
  return (
    <p class="site-choice">
      {only !== undefined && others.length === 0 ? (
        <>
          <span class="unseen">Site: </span>
          {only.name}
        </>
      ) : (
        <>
          <label class="site-choice-label" for="site-choice">
            Site
          </label>
          <select
            id="site-choice"
            value={siteLookedAt.value ?? allSites}
            onChange={(event) => {
              chosenSite.value = event.currentTarget.value;
            }}
          >
            {own.map(({ id, name }) => (
              <option key={id} value={id}>
                {name}
              </option>
            ))}
            {maySeeAll.value && <option value={allSites}>All sites</option>}
          </select>
        </>
      )}
    </p>
  );
}
