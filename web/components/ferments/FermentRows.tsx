import type { FermentStanding } from '#shared/views/ferments.ts';
import { generation, gravity, sincePitching } from '../../format.ts';
import { SiteTag } from '../frame/SiteOfRecord.tsx';
import { FermentFlag } from './FermentFlag.tsx';
import { rackingWords } from './fermentWords.ts';
import '../../styles/ferments.css';

/** Ferments as lines of a ledger: the FV leads, as it is painted on the vessel. */
export function FermentRows({ items }: { items: readonly FermentStanding[] }) {
  return (
    <ul class="ferment-rows">
      {items.map((ferment) => (
        <FermentRow key={ferment.id} ferment={ferment} />
      ))}
    </ul>
  );
}

function FermentRow({ ferment }: { ferment: FermentStanding }) {
  const { record, siteId, vessel, state, latestGravitySg, flag } = ferment;
  return (
    <li>
      <a href={`/ferments/${ferment.id}`}>
        <span class="ferment-vessel">
          {vessel} <SiteTag site={siteId} />
        </span>
        <span class="ferment-what">
          <strong>{record.gyle}</strong> {record.beer}
          <small>{[state, ...since(ferment)].join(' · ')}</small>
        </span>
        <span class="ferment-gravity">
          {latestGravitySg === null ? '–' : gravity(latestGravitySg)}
          <small>of {gravity(record.originalGravitySg)}</small>
        </span>
        <span class="ferment-flag">
          <FermentFlag flag={flag} /> <small>{[flag.why, ...forecast(ferment)].join(' ')}</small>
        </span>
      </a>
    </li>
  );
}

function forecast({ running, latestGravitySg }: FermentStanding): string[] {
  if (running === null || running.status === 'done') return [];
  const { value, range } = rackingWords({ running, latestGravitySg });
  return [`${gravity(running.rackingGravitySg)} ${value} (${range}).`];
}

function since({ hoursSincePitch, generation: pitched }: FermentStanding): string[] {
  return [
    ...(hoursSincePitch === null ? [] : [sincePitching(hoursSincePitch)]),
    ...(pitched === null ? [] : [generation(pitched)]),
  ];
}
