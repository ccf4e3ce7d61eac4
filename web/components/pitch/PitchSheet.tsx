import type { ComponentChildren } from 'preact';
import type { SiteKey } from '#shared/sites/site.ts';
import { withSite } from '../../sites.ts';

export type SheetLot = {
  code: string;
  /** "10.9 L", or "at least 12 L". */
  amount: string;
  range: string | undefined;
  facts: string;
};

type Props = {
  /** "FV3", or the beer of a brew still to come. */
  vessel: string;
  siteId: SiteKey | undefined;
  wort: string;
  lots: readonly SheetLot[];
  /** What they come to together. */
  rate: string | undefined;
  cautions: readonly string[];
  /** Who worked it out, or who pitched it. */
  who: string;
  children?: ComponentChildren;
};

/** What to carry to the vessel: read at arm's length, printed on one page. */
export function PitchSheet({ vessel, siteId, wort, lots, rate, cautions, who, children }: Props) {
  return (
    <section class="pitch-sheet" aria-label="Pitch sheet">
      <p class="sheet-vessel">{siteId === undefined ? vessel : withSite(vessel, siteId)}</p>
      <p class="sheet-wort">{wort}</p>
      {lots.map((lot) => (
        <div class="sheet-lot" key={lot.code}>
          <p class="sheet-code">{lot.code}</p>
          <p class="sheet-amount">{lot.amount}</p>
          {lot.range !== undefined && <p class="sheet-range">{lot.range}</p>}
          <p class="sheet-facts">{lot.facts}</p>
        </div>
      ))}
      {rate !== undefined && <p class="sheet-rate">{rate}</p>}
      <ul class="sheet-cautions">
        {[...cautions, ...atTheVessel].map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
      <p class="sheet-who">{who}</p>
      {children}
      <p class="actions">
        <button type="button" class="button" onClick={() => print()}>
          Print it
        </button>
      </p>
    </section>
  );
}

const atTheVessel = [
  'Check the code on the bin against this sheet before it goes in.',
  'Carbon dioxide lies over the wort unseen: check the air, never lean in, never alone. Your site’s own rules come first.',
];
