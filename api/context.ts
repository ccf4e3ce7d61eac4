import type { Database } from '#db/database.ts';

/** What every handler may use; the clock comes in here and nowhere else. */
export type Services = {
  database: Database;
  now: () => number;
};
