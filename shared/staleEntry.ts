import type { Entry } from './entries/entry.ts';
import { DomainError } from './errors.ts';

/** The entry of a record that stands now, for someone who knew it otherwise. */
export type EntryNow = {
  id: string;
  by: string;
  happenedAt: string;
  receivedAt: string;
  reason: string | null;
  body: Entry;
};

/**
 * A correction of what was corrected meanwhile, or other facts under the id of an entry whose answer
 * was lost: it carries what stands now.
 */
export class StaleEntry extends DomainError {
  readonly current: EntryNow;

  constructor(message: string, current: EntryNow) {
    super('conflict', message);
    this.name = 'StaleEntry';
    this.current = current;
  }
}
