import type { RequestLimitName } from '#shared/requestLimits.ts';
import type { RouteDoc } from '../apiDocument.ts';

/** Which row of the table of limits holds for a route; none for what anyone may call, but for sums. */
export function limitOf({
  who,
  limit,
  tag,
}: Pick<RouteDoc, 'who' | 'limit' | 'tag'>): RequestLimitName | undefined {
  if (who === 'anyone') return tag === 'Calculations' ? 'sum' : undefined;
  if (who === 'device') return 'device';
  return who === 'feed key' ? 'feed' : (limit ?? 'session');
}
