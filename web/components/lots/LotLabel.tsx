import { dayMs } from '#shared/durations.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import { amount, fullDay, generation } from '../../format.ts';
import { withSite } from '../../sites.ts';
import type { LabelSize } from '../labels/labelSizes.ts';
import { qrDrawing } from '../labels/qrPath.ts';

type Props = { lot: LotStanding; address: string; size: LabelSize };

/** What stands on the bin: readable without any device, and by a phone's camera. */
export function LotLabel({ lot, address, size }: Props) {
  const { code, strain, record, held, unit } = lot;
  const useBy = new Date(Date.parse(lot.takenAt) + strain.maxStorageDays * dayMs);
  const from = lot.fromFerment;
  return (
    <article class={`label label-${size.id}`} aria-label={`Label of ${code}`}>
      <Qr address={address} />
      <div class="label-text">
        <p class="label-code">{code}</p>
        <p class="label-strain">
          {withSite(`${strain.name}, ${generation(lot.generation)}`, lot.siteId)}
        </p>
        <p>
          {unbroken(fullDay(lot.takenAt))}, {unbroken(amount(lot.amount, unit))}
        </p>
        <p>Use by {unbroken(fullDay(useBy.toISOString()))}</p>
        <p>{from === null ? originWords[lot.kind] : `Gyle ${from.gyle} ${from.beer}`}</p>
        {size.id === 'a4' && record.container !== undefined && <p>{record.container}</p>}
      </div>
      {held !== null && <p class="label-hold">Hold: {held.why}</p>}
    </article>
  );
}

const originWords = {
  freshCulture: 'Fresh culture',
  crop: 'Crop',
  blend: 'Mixed lot',
  transfer: 'From another site',
} as const;
/** A number and its unit, or a date, stay on one line. */
const unbroken = (words: string) => words.replaceAll(' ', '\u00A0');
const quiet = 4;

function Qr({ address }: { address: string }) {
  const { size, path } = qrDrawing(address);
  const side = size + 2 * quiet;
  return (
    <svg
      class="label-qr"
      viewBox={`${-quiet} ${-quiet} ${side} ${side}`}
      shape-rendering="crispEdges"
      role="img"
      aria-label={`QR code of ${address}`}
    >
      <path d={path} fill="#000" />
    </svg>
  );
}
