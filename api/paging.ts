import * as z from 'zod/mini';
import { pageLimit } from '#db/reads/records.ts';
import { reference } from '#shared/fields.ts';
import { queryWhole } from './queryWhole.ts';

const usualLimit = 50;

export const pageQuery = z.strictObject({
  limit: z.optional(
    queryWhole(
      'limit',
      { min: 1, max: pageLimit },
      `At most this many, 1 to ${pageLimit}; ${usualLimit} when left out`,
    ),
  ),
  before: z.optional(
    queryWhole('before', { min: 1, max: Number.MAX_SAFE_INTEGER }, 'Only those with a lower seq'),
  ),
});

/** A page of records, of one site where it is named. */
export const recordsQuery = z.extend(pageQuery, {
  site: z.optional(
    reference('The site').check(z.describe('Only those of this site, and those all sites share')),
  ),
});

export function page({ limit = usualLimit, before }: z.output<typeof pageQuery>) {
  return { limit, before };
}
