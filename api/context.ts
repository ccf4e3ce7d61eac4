import type { Database } from '#db/database.ts';
import type { Access } from './auth/access.ts';
import type { Upkeep } from './upkeep/upkeep.ts';

/** What every handler may use; the clock comes in here and nowhere else. */
export type Services = {
  database: Database;
  now: () => number;
  /** Left out: only this machine's own names, no set-up code, no demo accounts. */
  access?: Partial<Access>;
  /** Left out where nobody looks after the file, as in tests. */
  upkeep?: Upkeep | undefined;
};
