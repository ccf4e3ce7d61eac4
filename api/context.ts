import type { Database } from '#db/database.ts';
import type { requestLimits } from '#shared/requestLimits.ts';
import type { Access } from './auth/access.ts';
import type { Upkeep } from './upkeep/upkeep.ts';

/** What every handler may use; the clock comes in here and nowhere else. */
export type Services = {
  database: Database;
  now: () => number;
  /** Left out: only this machine's own names, no set-up code, no demo accounts. */
  access?: Partial<Access>;
  /** Left out: callers may ask as often as they like, as in tests that load the server. */
  limits?: typeof requestLimits | undefined;
  /** Left out where nobody looks after the file, as in tests. */
  upkeep?: Upkeep | undefined;
};
