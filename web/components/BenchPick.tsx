import type { FermentStanding } from '#shared/views/ferments.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import { ago, amount, generation } from '../format.ts';
import { SiteTag } from './SiteOfRecord.tsx';
import { Status } from './Status.tsx';

/** The lots that could be under the microscope. */
export function LotPick({ items }: { items: readonly LotStanding[] }) {
  if (items.length === 0)
    return (
      <p class="empty">
        No yeast is in store. <a href="/crop">Crop an FV</a> or{' '}
        <a href="/yeast">enter a fresh culture</a> first.
      </p>
    );
  return (
    <ul class="pick">
      {items.map((lot) => (
        <li key={lot.id}>
          <a href={`/bench?lot=${lot.id}`}>
            <span class="pick-name">{lot.code}</span>
            <span>
              {lot.strain.name}, {generation(lot.generation)} <SiteTag site={lot.siteId} />
              <small>{evidenceOf(lot)}</small>
            </span>
            <Status verdict={lot.verdict.verdict} />
          </a>
        </li>
      ))}
    </ul>
  );
}

const lastOf = (what: string, found: { ageHours: number } | null) =>
  found === null ? `no ${what} yet` : `${what} ${ago(found.ageHours)}`;

const evidenceOf = ({ count, stain, left, unit }: LotStanding) =>
  [`${amount(left, unit)} left`, lastOf('count', count), lastOf('stain', stain)].join(' · ');

/** The worts just pitched, to be counted before they grow. */
export function FvPick({ items }: { items: readonly FermentStanding[] }) {
  if (items.length === 0) return null;
  return (
    <>
      <h2>Just pitched: count the wort</h2>
      <ul class="pick">
        {items.map(({ id, siteId, vessel, record, hoursSincePitch }) => (
          <li key={id}>
            <a href={`/bench?ferment=${id}`}>
              <span class="pick-name">{vessel}</span>
              <span>
                {record.gyle} {record.beer} <SiteTag site={siteId} />
                <small>pitched {ago(hoursSincePitch ?? 0)}</small>
              </span>
            </a>
          </li>
        ))}
      </ul>
    </>
  );
}
