import type { BulkEntry } from '#db/journal/bulk.ts';
import type { Entry } from '#shared/entries/entry.ts';
import { aFerment, aStrain, at, nextId } from './brewery.ts';

const by = 'Ines';

/**
 * Two gyles of Tern, the second from a crop of the first, and as many readings as are asked for: a
 * log that is longer than one request to a server. Entries stand in the order they are sealed.
 */
export function aLongLog(readings: number): { entries: BulkEntry[]; readings: BulkEntry[] } {
  const entries: BulkEntry[] = [];
  const add = (entry: Entry): string => {
    const id = nextId();
    entries.push({ id, entry, receivedMs: Date.parse(at(60)) + entries.length });
    return id;
  };
  const strainId = add(aStrain());
  const vessels = ['FV1', 'FV2'].map((name) =>
    add({ kind: 'vessel', happenedAt: at(0), by, name }),
  );
  const [vesselId = '', otherId = ''] = vessels;
  const fresh = { kind: 'freshCulture', strainId, origin: 'bought', generation: 0 } as const;
  let lotId = add({ ...fresh, happenedAt: at(0), by, code: 'TN-1', amountL: 20 });
  const gyles = [
    { gyle: '412', vesselId, hours: 1 },
    { gyle: '413', vesselId: otherId, hours: 46 },
  ];
  const fermentIds = gyles.map(({ hours, ...facts }) => {
    const fermentId = add(aFerment({ ...facts, strainId, happenedAt: at(hours) }));
    const pitched = { happenedAt: at(hours + 1), by, fermentId, lotId, amountKg: 5 };
    add({
      kind: 'pitch',
      ...pitched,
      ...(hours === 1 ? { amountKg: undefined, amountL: 11 } : {}),
    });
    const cropped = {
      happenedAt: at(hours + 2),
      by,
      fermentId,
      cut: 'skim 2',
      amountKg: 10,
    } as const;
    lotId = add({ kind: 'crop', ...cropped, code: `TN-${facts.gyle}A` });
    return fermentId;
  });
  const first = entries.length;
  for (let n = 0; n < readings; n += 1) {
    const fermentId = fermentIds[n % 2] ?? '';
    const happenedAt = at(50 + n / 3_600);
    add({ kind: 'reading', happenedAt, by, fermentId, gravitySg: 1.04 - (n % 997) * 1.23e-5 });
  }
  return { entries: entries.slice(0, first), readings: entries.slice(first) };
}
