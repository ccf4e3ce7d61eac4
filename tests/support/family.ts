import fc from 'fast-check';
import type { Entry } from '#shared/entries/entry.ts';
import type { Edge } from '#shared/lineage/reach.ts';
import { aFerment, aLog, aStrain, at, freshDatabase, nextId } from './brewery.ts';

/** What a brewery may do next; each number picks among what there is by then. */
export type Deed =
  | { do: 'fresh' }
  | { do: 'brew'; from: number[] }
  | { do: 'crop'; of: number }
  | { do: 'blend'; of: [number, number] }
  | { do: 'rack'; of: number };

const pick = fc.nat({ max: 1000 });

export const deeds: fc.Arbitrary<Deed[]> = fc.array(
  fc.oneof(
    { weight: 1, arbitrary: fc.constant<Deed>({ do: 'fresh' }) },
    {
      weight: 4,
      arbitrary: fc
        .array(pick, { minLength: 1, maxLength: 3 })
        .map((from): Deed => ({ do: 'brew', from })),
    },
    { weight: 5, arbitrary: pick.map((of): Deed => ({ do: 'crop', of })) },
    { weight: 2, arbitrary: fc.tuple(pick, pick).map((of): Deed => ({ do: 'blend', of })) },
    { weight: 2, arbitrary: pick.map((of): Deed => ({ do: 'rack', of })) },
  ),
  { maxLength: 24 },
);

/** A log in which these deeds were done, and the steps they make, told from the deeds alone. */
export async function aFamily(done: readonly Deed[]) {
  const log = aLog(await freshDatabase());
  const by = 'Ines';
  const strain = await log.write(aStrain());
  const lots: string[] = [];
  const ferments: string[] = [];
  const racked = new Set<string>();
  const racks: string[] = [];
  const edges: Edge[] = [];
  let hour = 1;
  const write = async (entry: Entry) => (await log.write(entry, nextId())).recordId;
  const happened = () => {
    hour += 1;
    return { happenedAt: at(hour), by };
  };
  const fresh = async () => {
    const facts = { strainId: strain.id, origin: 'bought', generation: 0, amountKg: 1000 } as const;
    lots.push(await write({ kind: 'freshCulture', ...happened(), ...facts }));
  };
  await fresh();
  const oneOf = (ids: readonly string[], index: number) => ids[index % ids.length] ?? '';

  for (const deed of done)
    switch (deed.do) {
      case 'fresh':
        await fresh();
        break;
      case 'brew': {
        const vessel = await write({ kind: 'vessel', ...happened(), name: `FV ${hour}` });
        const gyle = aFerment({ vesselId: vessel, strainId: strain.id, gyle: `G${hour}` });
        const fermentId = await write({ ...gyle, ...happened() });
        for (const lotId of new Set(deed.from.map((index) => oneOf(lots, index)))) {
          await write({ kind: 'pitch', ...happened(), fermentId, lotId, amountKg: 1 });
          edges.push({ parent: lotId, child: fermentId });
        }
        ferments.push(fermentId);
        break;
      }
      case 'crop': {
        if (ferments.length === 0) break;
        const fermentId = oneOf(ferments, deed.of);
        const lot = await write({
          ...{ kind: 'crop', ...happened(), fermentId, cut: 'skim 1', amountKg: 1000 },
        });
        lots.push(lot);
        edges.push({ parent: fermentId, child: lot });
        break;
      }
      case 'blend': {
        const parents = [...new Set(deed.of.map((index) => oneOf(lots, index)))];
        if (parents.length < 2) break;
        const lot = await write({
          kind: 'blend',
          ...happened(),
          parents: parents.map((lotId) => ({ lotId, amountKg: 1 })),
          amountKg: 2,
        });
        lots.push(lot);
        for (const parent of parents) edges.push({ parent, child: lot });
        break;
      }
      case 'rack': {
        const fermentId = oneOf(ferments, deed.of);
        if (ferments.length === 0 || racked.has(fermentId)) break;
        racked.add(fermentId);
        const rack = await write({
          ...{ kind: 'rack', ...happened(), fermentId, batches: [`C${hour}`] },
        });
        racks.push(rack);
        edges.push({ parent: fermentId, child: rack });
      }
    }
  return { ...log, lots, ferments, racks, edges, ids: [...lots, ...ferments, ...racks] };
}

/** Every record some way from a record leads to, found by going all ways. */
export function allWays(start: string, edges: readonly Edge[], up = false): Set<string> {
  const found = new Set([start]);
  for (let grew = true; grew; ) {
    grew = false;
    for (const { parent, child } of edges) {
      const [from, to] = up ? [child, parent] : [parent, child];
      if (found.has(from) && !found.has(to)) {
        found.add(to);
        grew = true;
      }
    }
  }
  return found;
}
