import type { LotStanding } from '#shared/views/lots.ts';
import { amount, duration, generation } from '../../format.ts';
import { SiteTag } from '../frame/SiteOfRecord.tsx';
import { Status } from '../frame/Status.tsx';

type Props = { items: readonly LotStanding[]; hrefOf: (lot: LotStanding) => string };

/** The lots in store to choose one from, for whatever is done with it. */
export function LotList({ items, hrefOf }: Props) {
  if (items.length === 0)
    return (
      <p class="empty">
        No yeast is in store. <a href="/crop">Crop an FV</a> or{' '}
        <a href="/yeast/new">enter a fresh culture</a> first.
      </p>
    );
  return (
    <ul class="pick">
      {items.map((lot) => (
        <li key={lot.id}>
          <a href={hrefOf(lot)}>
            <span class="pick-name">{lot.code}</span>
            <span>
              {lot.strain.name}, {generation(lot.generation)} <SiteTag site={lot.siteId} />
              <small>
                {amount(lot.left, lot.unit)} left, {duration(lot.ageHours)} old
              </small>
            </span>
            <Status verdict={lot.verdict.verdict} />
          </a>
        </li>
      ))}
    </ul>
  );
}
