import { eq } from 'drizzle-orm';
import type { RecordEntry } from '#shared/entries/entry.ts';
import { type LotOrigin, lotCode, lotCodePrefix } from '#shared/lotCode.ts';
import type { Query } from '../database.ts';
import { sentCodes } from '../reads/sentLots.ts';
import { ferment, lot, strain } from '../schema/index.ts';
import { codesLike } from './entryContext.ts';

type LotEntry = Extract<RecordEntry, { kind: 'freshCulture' | 'crop' | 'blend' | 'transfer' }>;

export const isLotEntry = (entry: RecordEntry): entry is LotEntry =>
  entry.kind === 'freshCulture' ||
  entry.kind === 'crop' ||
  entry.kind === 'blend' ||
  entry.kind === 'transfer';

/** The strain of the yeast a lot is made of. */
export async function strainOf(query: Query, entry: LotEntry): Promise<string> {
  if (entry.kind === 'freshCulture') return entry.strainId;
  const [row] =
    entry.kind === 'crop'
      ? await query
          .select({ strainId: ferment.strainId })
          .from(ferment)
          .where(eq(ferment.id, entry.fermentId))
      : await query
          .select({ strainId: lot.strainId })
          .from(lot)
          .where(
            eq(lot.id, entry.kind === 'blend' ? (entry.parents[0]?.lotId ?? '') : entry.lotId),
          );
  if (row === undefined) throw new Error('A lot without a strain passed the rules.');
  return row.strainId;
}

/** A readable code no other lot bears. */
export async function freeCode(
  query: Query,
  entry: LotEntry,
  { recordId, strainId }: { recordId: string; strainId: string },
): Promise<string> {
  const origin = await originOf(query, entry, strainId);
  const taken = await codesLike(query, lotCodePrefix(origin), recordId);
  return lotCode(origin, (code) => taken.has(code));
}

async function originOf(query: Query, entry: LotEntry, strainId: string): Promise<LotOrigin> {
  if (entry.kind === 'transfer') return { kind: 'transfer', ...(await sentCodes(query, entry)) };
  const [owner] = await query
    .select({ code: strain.code })
    .from(strain)
    .where(eq(strain.id, strainId));
  const strainCode = owner?.code ?? '';
  return entry.kind === 'crop'
    ? { kind: 'crop', strainCode, gyle: await gyleOf(query, entry.fermentId) }
    : { kind: entry.kind, strainCode };
}

async function gyleOf(query: Query, fermentId: string): Promise<string> {
  const [row] = await query
    .select({ gyle: ferment.gyle })
    .from(ferment)
    .where(eq(ferment.id, fermentId));
  return row?.gyle ?? '';
}
