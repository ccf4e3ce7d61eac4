import { testOrder } from '#shared/lots/testOrder.ts';
import type { PlanBrew } from '#shared/plan/planView.ts';
import type { FermentStanding } from '#shared/views/ferments.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import { ago, amount, day, generation } from '../../format.ts';
import { SiteTag } from '../frame/SiteOfRecord.tsx';
import { Status } from '../frame/Status.tsx';

/** The lots that could be under the microscope: those a brew waits for first. */
export function LotPick({
  items,
  brews,
}: {
  items: readonly LotStanding[];
  brews: readonly PlanBrew[];
}) {
  if (items.length === 0)
    return (
      <p class="empty">
        No yeast is in store. <a href="/crop">Crop an FV</a> or{' '}
        <a href="/yeast/new">enter a fresh culture</a> first.
      </p>
    );
  const { first, rest } = testOrder(items, brews);
  return (
    <>
      {first.length > 0 && <h2>To test first</h2>}
      <Lots
        lots={first.map(({ lot, brew }) => ({
          lot,
          why: [
            lot.verdict.reasons[0]?.text ?? '',
            brew === null ? 'No brew planned asks for it' : `For ${brew.beer}, ${day(brew.onDay)}`,
          ].join('. '),
        }))}
      />
      {first.length > 0 && rest.length > 0 && <h2>The others</h2>}
      <Lots lots={rest.map((lot) => ({ lot, why: undefined }))} />
    </>
  );
}

function Lots({ lots }: { lots: readonly { lot: LotStanding; why: string | undefined }[] }) {
  if (lots.length === 0) return null;
  return (
    <ul class="pick">
      {lots.map(({ lot, why }) => (
        <li key={lot.id}>
          <a href={`/bench?lot=${lot.id}`}>
            <span class="pick-name">{lot.code}</span>
            <span>
              {lot.strain.name}, {generation(lot.generation)} <SiteTag site={lot.siteId} />
              <small>{evidenceOf(lot)}</small>
              {why !== undefined && <small class="pick-why">{why}</small>}
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
