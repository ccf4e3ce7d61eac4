import type { FermentFlag } from '#shared/views/ferments.ts';

/** How a gyle that is collected and not pitched stands. */
export const unpitched: FermentFlag = { status: 'no yeast yet', why: 'It waits for its yeast.' };
