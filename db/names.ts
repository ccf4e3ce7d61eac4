import type { Query } from './database.ts';
import { ferment, lot, strain, vessel } from './schema/index.ts';

type Named = { id: string; name: string };

/** Every strain, fermenter, ferment and lot by what people call it. */
export async function recordNames(query: Query) {
  const strains = await query
    .select({ id: strain.id, name: strain.name, code: strain.code })
    .from(strain);
  return {
    strains: [
      ...strains,
      ...strains.map(({ id, code }) => ({ id, name: code })),
    ] as readonly Named[],
    vessels: await query.select({ id: vessel.id, name: vessel.name }).from(vessel),
    ferments: await query.select({ id: ferment.id, name: ferment.gyle }).from(ferment),
    lots: await query.select({ id: lot.id, name: lot.code }).from(lot),
  };
}
