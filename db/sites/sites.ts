import { asc, eq, sql } from 'drizzle-orm';
import type { Entry, RecordKind } from '#shared/entries/entry.ts';
import { DomainError } from '#shared/errors.ts';
import { hasSites, type Site, type SiteKey, siteAt, siteKey } from '#shared/sites/site.ts';
import type { Query } from '../database.ts';
import { lastFacts } from '../journal/correctedEntry.ts';
import { prepared } from '../prepared.ts';
import { tableOf } from '../project/rows.ts';
import { journal, site } from '../schema/index.ts';
import { everySite, type SiteScope } from './siteScope.ts';

/** The sites, the first one made first; none in a brewery that never named one. */
export async function listSites(query: Query): Promise<Site[]> {
  const rows = await allSites(query).all();
  return rows
    .map(({ homeId, ...row }) => ({ ...row, isHome: row.id === homeId }))
    .sort((a, b) => Number(b.isHome) - Number(a.isHome));
}

const allSites = prepared((query) =>
  query
    .select({
      id: site.id,
      name: site.name,
      code: site.code,
      homeId: site.homeId,
      timeZone: sql<string | null>`json_extract(${journal.body}, '$.timeZone')`,
    })
    .from(site)
    .innerJoin(journal, eq(journal.id, site.entryId))
    .orderBy(asc(site.name))
    .prepare(),
);

/**
 * What a list of this site is of. With one site or none it is of everything.
 * @throws DomainError `not_found` when there is no such site
 */
export function scopeOf(sites: readonly Site[], siteId: string | undefined): SiteScope {
  if (siteId === undefined) return everySite;
  const chosen = sites.find(({ id }) => id === siteId);
  if (chosen === undefined) throw new DomainError('not_found', 'There is no such site in the log.');
  return hasSites(sites) ? { key: siteKey(chosen) } : everySite;
}

type Table = (typeof tableOf)[RecordKind];

const ofLot = sql`(SELECT site_id FROM lot WHERE lot.id = row.lot_id)`;
const ofFerment = sql`(SELECT site_id FROM ferment WHERE ferment.id = row.ferment_id)`;
const ofHold = sql`coalesce(${ofLot}, ${ofFerment})`;

/** The site of a row of each projection, called `row`; null where all sites share it. */
export const siteColumn = {
  brewery: null,
  site: null,
  strain: null,
  medium: null,
  fresh_culture_policy: null,
  vessel: sql`row.site_id`,
  ferment: sql`row.site_id`,
  lot: sql`row.site_id`,
  planned_brew: sql`row.site_id`,
  pitch: ofFerment,
  reading: ofFerment,
  chill: ofFerment,
  rack: ofFerment,
  store_reading: ofLot,
  cell_count: ofLot,
  stain: ofLot,
  micro_check: ofLot,
  treatment: ofLot,
  discard: ofLot,
  hold: ofLot,
  release: ofLot,
  family_hold: ofHold,
  micro_result: sql`(SELECT lot.site_id FROM micro_check JOIN lot ON lot.id = micro_check.lot_id
    WHERE micro_check.id = row.check_id)`,
  family_release: sql`(SELECT coalesce(
      (SELECT site_id FROM lot WHERE lot.id = held.lot_id),
      (SELECT site_id FROM ferment WHERE ferment.id = held.ferment_id))
    FROM family_hold AS held WHERE held.id = row.hold_id)`,
  allotment: sql`(SELECT site_id FROM planned_brew WHERE planned_brew.id = row.planned_brew_id)`,
} as const satisfies Record<Table, ReturnType<typeof sql> | null>;

/** Whether records of a kind each belong to a site, rather than to all. */
export const isKeptBySite = (kind: RecordKind): boolean => siteColumn[tableOf[kind]] !== null;

/** Where each of some records of one kind is; none where all sites share them. */
export async function placesOf(
  query: Query,
  kind: RecordKind,
  ids: readonly string[],
): Promise<Map<string, SiteKey>> {
  const column = siteColumn[tableOf[kind]];
  if (column === null) return new Map();
  const rows = await query.all<{ id: string; key: SiteKey }>(sql`
    SELECT row.id AS id, ${column} AS key FROM ${sql.identifier(tableOf[kind])} AS row
    WHERE row.id IN (SELECT value FROM json_each(${JSON.stringify(ids)}))`);
  return new Map(rows.map(({ id, key }) => [id, key]));
}

/** What is written at no single site, so that it takes a role held at every one. */
export const atEverySite = 'every site';
type WrittenAt = Site | typeof atEverySite;

/**
 * The sites an entry is written at: of what it speaks of, and of the record it corrects. Empty in a
 * brewery with one site.
 */
export async function sitesWrittenAt(query: Query, entry: Entry): Promise<WrittenAt[]> {
  const sites = await listSites(query);
  if (!hasSites(sites)) return [];
  const places = [
    ...(entry.kind === 'void' ? [] : [await placeOf(query, entry, sites)]),
    ...(entry.supersedes === undefined
      ? []
      : [await placeOfRecord(query, entry.supersedes, sites)]),
  ];
  return places.flatMap((place) =>
    place === undefined
      ? []
      : [place === atEverySite ? atEverySite : (siteAt(sites, place.key) ?? atEverySite)],
  );
}

type Place = { key: SiteKey } | typeof atEverySite | undefined;

async function placeOf(
  query: Query,
  entry: Exclude<Entry, { kind: 'void' }>,
  sites: readonly Site[],
): Promise<Place> {
  if (siteColumn[tableOf[entry.kind]] === null) return atEverySite;
  const named = (table: Table, id: string) => placeOfRow(query, table, id);
  if (entry.kind === 'blend') return named('lot', entry.parents[0]?.lotId ?? '');
  if (entry.kind === 'allotment') return named('planned_brew', entry.plannedBrewId);
  if ('vesselId' in entry && entry.vesselId !== undefined) return named('vessel', entry.vesselId);
  if ('fermentId' in entry && entry.fermentId !== undefined)
    return named('ferment', entry.fermentId);
  if ('lotId' in entry && entry.lotId !== undefined) return named('lot', entry.lotId);
  if ('checkId' in entry) return named('micro_check', entry.checkId);
  if ('holdId' in entry) return named('family_hold', entry.holdId);
  return placeNamed(sites, 'siteId' in entry ? entry.siteId : undefined);
}

function placeNamed(sites: readonly Site[], siteId: string | undefined): { key: SiteKey } {
  const chosen = sites.find(({ id }) => id === siteId);
  return { key: chosen === undefined ? null : siteKey(chosen) };
}

async function placeOfRecord(
  query: Query,
  entryId: string,
  sites: readonly Site[],
): Promise<Place> {
  const [row] = await query
    .select({ recordId: journal.recordId })
    .from(journal)
    .where(eq(journal.id, entryId));
  if (row === undefined) return undefined;
  for (const table of new Set(Object.values(tableOf))) {
    const place = await placeOfRow(query, table, row.recordId);
    if (place !== undefined) return place;
  }
  // Struck out, it stands in no table: it is where its last facts put it, as far as that is known.
  const last = await lastFacts(query, row.recordId);
  const place =
    last.kind === 'transfer' ? placeNamed(sites, last.toSiteId) : await placeOf(query, last, sites);
  return place ?? atEverySite;
}

async function placeOfRow(query: Query, table: Table, id: string): Promise<Place> {
  const column = siteColumn[table];
  const rows = await query.all<{ key: SiteKey }>(sql`
    SELECT ${column ?? sql`NULL`} AS key FROM ${sql.identifier(table)} AS row WHERE row.id = ${id}`);
  const [row] = rows;
  return row === undefined || column !== null ? row : atEverySite;
}
