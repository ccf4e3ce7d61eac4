import { verdicts } from '#shared/verdict.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import { amount, duration, generation } from '../../format.ts';
import { SiteTag } from '../frame/SiteOfRecord.tsx';
import { Status } from '../frame/Status.tsx';

/** Lots of a strain, the fit ones first and of these the oldest: it will not keep. */
export function LotRows({ lots }: { lots: readonly LotStanding[] }) {
  return (
    <ul class="lot-rows">
      {lots.toSorted(byUse).map((lot) => (
        <li key={lot.id}>
          <div class="lot-name">
            <a class="lot-code" href={`/yeast/${lot.id}`}>
              {lot.code}
            </a>
            <SiteTag site={lot.siteId} />
            <Status verdict={lot.verdict.verdict} />
          </div>
          <p class="lot-left">{amount(lot.left, lot.unit)}</p>
          <div class="lot-why">
            <p>{lot.verdict.reasons[0]?.text}</p>
            <p class="lot-facts">
              {generation(lot.generation)}, {duration(lot.ageHours)} old
              {lot.fromFerment !== null && `, from gyle ${lot.fromFerment.gyle}`}
            </p>
          </div>
          <p class="lot-doors">
            {isUsable(lot) && (
              <a class="button quiet" href={`/pitch?lot=${lot.id}`}>
                Pitch<span class="unseen"> {lot.code}</span>
              </a>
            )}
            {lot.verdict.verdict === 'test first' && (
              <a class="button quiet" href={`/bench?lot=${lot.id}`}>
                Bench<span class="unseen">: {lot.code}</span>
              </a>
            )}
          </p>
        </li>
      ))}
    </ul>
  );
}

const rank = ({ verdict }: LotStanding) => verdicts.indexOf(verdict.verdict);
export const byUse = (a: LotStanding, b: LotStanding) =>
  rank(a) - rank(b) || b.ageHours - a.ageHours;
export const isUsable = ({ verdict }: LotStanding) =>
  verdict.verdict === 'fit' || verdict.verdict === 'test first';
