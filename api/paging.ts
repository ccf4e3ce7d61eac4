import * as z from 'zod/mini';
import { pageLimit } from '#db/records.ts';
import { reference } from '#shared/fields.ts';

const usualLimit = 50;

const wholeNumber = (label: string, most: number) => {
  const error = `${label} must be a whole number from 1 to ${most}`;
  return z.optional(
    z.string().check(
      z.refine((value) => /^\d{1,15}$/.test(value) && Number(value) >= 1 && Number(value) <= most, {
        error,
      }),
    ),
  );
};

export const pageQuery = z.strictObject({
  limit: wholeNumber('limit', pageLimit),
  before: wholeNumber('before', Number.MAX_SAFE_INTEGER),
});

/** A page of records, of one site where it is named. */
export const recordsQuery = z.extend(pageQuery, { site: z.optional(reference('The site')) });

/** The same as the document tells them. */
export const pageKeys = {
  limit: {
    type: 'integer',
    description: `At most this many, 1 to ${pageLimit}; ${usualLimit} when left out`,
  },
  before: { type: 'integer', description: 'Only those with a lower seq' },
} as const;

export function page({ limit, before }: z.output<typeof pageQuery>) {
  return {
    limit: limit === undefined ? usualLimit : Number(limit),
    before: before === undefined ? undefined : Number(before),
  };
}
