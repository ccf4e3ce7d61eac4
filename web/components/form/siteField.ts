import { setup } from '../../settings.ts';
import { siteLookedAt, sites } from '../../sites.ts';
import { type Spec, select } from './fields.ts';

/** Which site a new record belongs to; asked only where there are two or more. */
export function siteField(): Spec<string> {
  const options = sites.value.map(({ id, name }) => ({ value: id, label: name }));
  const { parse, ...spec } = select({ label: 'Site', options });
  return {
    ...spec,
    parse: (typed, all) => {
      if (options.length > 0 && !options.some(({ value }) => value === typed))
        return { problem: 'Choose the site' };
      // What is of the first site names none.
      return typed === setup.value?.homeId ? { value: undefined } : parse(typed, all);
    },
  };
}

/** The site of the record to be changed, else the one looked at. */
export const siteStart = (record?: { siteId?: string | undefined }): string | undefined =>
  (record === undefined ? siteLookedAt.value : (record.siteId ?? setup.value?.homeId)) ?? undefined;
