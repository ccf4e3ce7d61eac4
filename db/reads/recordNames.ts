import type { Query } from '../database.ts';
import { ferment, lot, strain, vessel } from '../schema/index.ts';
import { atSite, everySite, type SiteScope } from '../sites/siteScope.ts';

type Named = { id: string; name: string };

/** Every strain, and every fermenter, ferment and lot of a site, by what people call it. */
export async function recordNames(query: Query, at: SiteScope = everySite) {
  const strains = await query
    .select({ id: strain.id, name: strain.name, code: strain.code })
    .from(strain);
  return {
    strains: [
      ...strains,
      ...strains.map(({ id, code }) => ({ id, name: code })),
    ] as readonly Named[],
    vessels: await query
      .select({ id: vessel.id, name: vessel.name })
      .from(vessel)
      .where(atSite(vessel.siteId, at)),
    ferments: await query
      .select({ id: ferment.id, name: ferment.gyle })
      .from(ferment)
      .where(atSite(ferment.siteId, at)),
    lots: await query
      .select({ id: lot.id, name: lot.code })
      .from(lot)
      .where(atSite(lot.siteId, at)),
  };
}
