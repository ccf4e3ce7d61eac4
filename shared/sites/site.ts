/** A place the brewery brews at. */
export type Site = {
  id: string;
  name: string;
  code: string;
  /** The first one made: what names no site is there. */
  isHome: boolean;
  /** Null: as the brewery. */
  timeZone: string | null;
};

/** How a record names its site in the tables: null for the first one. */
export type SiteKey = string | null;

export const siteKey = ({ id, isHome }: Site): SiteKey => (isHome ? null : id);

/** The key of the site that an entry names by id; one that names none is of the first. */
export const keyOfNamed = (siteId: string | undefined, homeId: string | null): SiteKey =>
  siteId === undefined || siteId === homeId ? null : siteId;

export const siteAt = (sites: readonly Site[], key: SiteKey): Site | undefined =>
  sites.find((site) => siteKey(site) === key);

/** Two or more: below that nobody is asked about sites. */
export const hasSites = (sites: readonly unknown[]): boolean => sites.length > 1;
