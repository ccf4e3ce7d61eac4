import type { Entry } from '../entries/entry.ts';
import { chamberIds, chamberRuling } from '../science/chambers.ts';
import { stainNames } from '../science/stains.ts';
import { cuts } from '../words.ts';
import type { Row } from './cells.ts';
import { complete, named, oneOf } from './rowFacts.ts';
import type { SheetKind } from './sheets.ts';

/** The records a row may name, by what people call them in small letters. */
export type Names = {
  vessels: ReadonlyMap<string, string>;
  strains: ReadonlyMap<string, string>;
  ferments: ReadonlyMap<string, string>;
  lots: ReadonlyMap<string, string>;
};

/** Whoever brings the rows in, and where they belong; left out, at the first site. */
export type RowsOf = { by: string; siteId?: string | undefined };
type RowContext = RowsOf & { names: Names; idOf: (part: string) => string };
type Made = { id: string; entry: Entry };

/** The entries one row stands for; none when a cell could not be read. */
export const rowEntries: Record<SheetKind, (row: Row, context: RowContext) => Made[]> = {
  ferments: fermentEntries,
  lots: lotEntries,
  pitches: pitchEntries,
  readings: readingEntries,
  counts: countEntries,
};

function fermentEntries(row: Row, { names, by, idOf }: RowContext): Made[] {
  const facts = complete(row, {
    gyle: row.text('gyle')?.toUpperCase(),
    beer: row.text('beer'),
    vessel: named(row, 'vessel', names.vessels, 'fermenter'),
    strain: named(row, 'strain', names.strains, 'strain'),
    collectedAt: row.moment('collectedAt'),
    volume: row.volumeL('volume'),
    og: row.gravitySg('og'),
  });
  const chilledAt = row.moment('chilledAt');
  const rackedAt = row.moment('rackedAt');
  const may = {
    setTempC: row.tempC('setTemp'),
    oxygenMgPerL: row.number('oxygen'),
    zincMgPerL: row.number('zinc'),
    note: row.text('note'),
  };
  const rackGravity = row.gravitySg('rackGravity');
  if (facts === undefined || row.problems.length > 0) return [];
  const who = row.text('by') ?? by;
  const fermentId = idOf('ferment');
  const made: Made[] = [
    {
      id: fermentId,
      entry: {
        kind: 'ferment',
        happenedAt: facts.collectedAt,
        by: who,
        gyle: facts.gyle,
        beer: facts.beer,
        vesselId: facts.vessel,
        strainId: facts.strain,
        volumeL: facts.volume,
        originalGravitySg: facts.og,
        ...may,
      },
    },
  ];
  if (chilledAt !== undefined)
    made.push({
      id: idOf('chill'),
      entry: { kind: 'chill', happenedAt: chilledAt, by: who, fermentId },
    });
  if (rackedAt !== undefined)
    made.push({
      id: idOf('rack'),
      entry: {
        kind: 'rack',
        happenedAt: rackedAt,
        by: who,
        fermentId,
        gravitySg: rackGravity,
        batches: row.list('batches'),
      },
    });
  return made;
}

function lotEntries(row: Row, { names, by, siteId, idOf }: RowContext): Made[] {
  const facts = complete(row, {
    code: row.text('code')?.toUpperCase(),
    strain: named(row, 'strain', names.strains, 'strain'),
    takenAt: row.moment('takenAt'),
    amount: row.amount('amount'),
  });
  const from =
    row.text('gyle') === undefined ? undefined : named(row, 'gyle', names.ferments, 'gyle');
  const generation = row.number('generation') ?? 0;
  const cut = oneOf(row, 'cut', cuts) ?? 'skim 2';
  const goneAt = row.moment('goneAt');
  if (facts === undefined || row.problems.length > 0) return [];
  const lotId = idOf('lot');
  const common = {
    happenedAt: facts.takenAt,
    by: row.text('by') ?? by,
    code: facts.code,
    place: row.text('place'),
    note: row.text('note'),
    ...facts.amount,
  };
  const lot: Entry =
    from === undefined
      ? {
          kind: 'freshCulture',
          strainId: facts.strain,
          origin: 'other',
          generation,
          siteId,
          ...common,
        }
      : { kind: 'crop', fermentId: from, cut, ...common };
  const gone: Made[] =
    goneAt === undefined
      ? []
      : [
          {
            id: idOf('discard'),
            entry: {
              kind: 'discard',
              happenedAt: goneAt,
              by: common.by,
              lotId,
              why: 'Used up or thrown away, by the old records',
              ...facts.amount,
            },
          },
        ];
  return [{ id: lotId, entry: lot }, ...gone];
}

function pitchEntries(row: Row, { names, by, idOf }: RowContext): Made[] {
  const facts = complete(row, {
    gyle: named(row, 'gyle', names.ferments, 'gyle'),
    lot: named(row, 'lot', names.lots, 'lot'),
    amount: row.amount('amount'),
    pitchedAt: row.moment('pitchedAt'),
  });
  if (facts === undefined || row.problems.length > 0) return [];
  const entry: Entry = {
    kind: 'pitch',
    happenedAt: facts.pitchedAt,
    by: row.text('by') ?? by,
    fermentId: facts.gyle,
    lotId: facts.lot,
    note: row.text('note'),
    ...facts.amount,
  };
  return [{ id: idOf('pitch'), entry }];
}

function readingEntries(row: Row, { names, by, idOf }: RowContext): Made[] {
  const facts = complete(row, {
    gyle: named(row, 'gyle', names.ferments, 'gyle'),
    at: row.moment('at'),
  });
  const millions = row.number('cells');
  const measured = {
    gravitySg: row.gravitySg('gravity'),
    tempC: row.tempC('temp'),
    ph: row.number('ph'),
    cellsPerMl: millions === undefined ? undefined : millions * 1e6,
  };
  if (facts === undefined || row.problems.length > 0) return [];
  const entry: Entry = {
    kind: 'reading',
    happenedAt: facts.at,
    by: row.text('by') ?? by,
    fermentId: facts.gyle,
    note: row.text('note'),
    ...measured,
  };
  return [{ id: idOf('reading'), entry }];
}

function countEntries(row: Row, { names, by, idOf }: RowContext): Made[] {
  const facts = complete(row, {
    lot: named(row, 'lot', names.lots, 'lot'),
    at: row.moment('at'),
  });
  const squares = row.wholes('squares');
  const dilutionFactor = row.number('dilution') ?? 1;
  const chamber = oneOf(row, 'chamber', chamberIds) ?? 'improved Neubauer, medium squares';
  const live = row.number('live');
  const dead = row.number('dead');
  const stain = oneOf(row, 'stain', stainNames) ?? 'methylene blue';
  if (row.text('squares') === undefined && live === undefined)
    row.report('squares', 'Give the cells in each square, or cells live and dead, or both');
  if (facts === undefined || row.problems.length > 0) return [];
  const common = { happenedAt: facts.at, by: row.text('by') ?? by, lotId: facts.lot };
  const { squareAreaMm2 = 1, depthMm } = chamberRuling(chamber);
  const count: Entry = {
    kind: 'count',
    ...common,
    basis: 'mL',
    chamber,
    squareAreaMm2,
    depthMm,
    pipettingSteps: dilutionFactor === 1 ? 0 : 1,
    fillings: [{ squares, dilutionFactor, dilution: 1 }],
    note: row.text('note'),
  };
  return [
    ...(squares.length === 0 ? [] : [{ id: idOf('count'), entry: count }]),
    ...(live === undefined
      ? []
      : [
          {
            id: idOf('stain'),
            entry: { kind: 'stain', ...common, stain, live, dead: dead ?? 0 } as const,
          },
        ]),
  ];
}
