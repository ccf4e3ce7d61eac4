import { effect, signal } from '@preact/signals';
import { keep, kept } from './deviceMemory.ts';

export const allSites = 'all';

const place = 'barmbook.site';

/** What this device looks at: the id of a site, or all; null is the one the server takes. */
export const chosenSite = signal<string | null>(kept(place));
effect(() => keep(place, chosenSite.value));

/** The query of a read that may be of one site or of all. */
export const ofChosen = () => ({
  query: chosenSite.value === null ? {} : { site: chosenSite.value },
});

/** The same where all is said by naming none. */
export const ofOneChosen = (): { site?: string } =>
  chosenSite.value === null || chosenSite.value === allSites ? {} : { site: chosenSite.value };
