import { hourMs } from '#shared/durations.ts';
import type { RecordEntry } from '#shared/entries/entry.ts';
import { uuidV7 } from '#shared/uuid.ts';
import { aBrewery, aStrain } from '#tests/support/brewery.ts';

export type Shape = {
  sites: number;
  weeks: number;
  /** Ferments a week at one site, each with a chain of crops of its own. */
  chains: number;
  readingsPerFerment: number;
  /** Passes before fresh culture is brought in; then all chains of a site start anew from it. */
  generations: number;
};

/** What the log works out beside the facts, known beforehand because the story is planned. */
type Derived = Record<string, string | number | null>;
export type Made = { id: string; entry: RecordEntry; derived?: Derived };

const weekMs = 7 * 24 * hourMs;
const by = 'Ines';

/** An invented log of any size, in order of time, ending at a moment; the same for the same shape. */
export function* syntheticLog(shape: Shape, endMs: number): Generator<Made> {
  const startMs = endMs - shape.weeks * weekMs;
  const id = ids(startMs);
  const at = (ms: number) => new Date(ms).toISOString();
  const common = { happenedAt: at(startMs), by };
  yield { id: id(), entry: aBrewery(common) };
  const sites: Site[] = [];
  for (let index = 0; index < shape.sites; index += 1) {
    const strainId = id();
    const named = { name: `Tern ${index + 1}`, code: codeOf(index) };
    yield { id: strainId, entry: aStrain({ ...common, ...named, maxGenerations: 14 }) };
    const vesselIds: string[] = [];
    for (let chain = 0; chain < shape.chains; chain += 1) {
      const vesselId = id();
      vesselIds.push(vesselId);
      const name = `FV${index + 1}.${chain + 1}`;
      yield { id: vesselId, entry: { kind: 'vessel', ...common, name, capacityL: 1800 } };
    }
    sites.push({ index, strainId, vesselIds, crops: [], lineId: '' });
  }
  for (let week = 0; week < shape.weeks; week += 1)
    for (const site of sites) {
      const mondayMs = startMs + week * weekMs;
      if (week % shape.generations === 0) yield* freshCulture(site, week, mondayMs, id);
      for (let chain = 0; chain < shape.chains; chain += 1)
        yield* brew({ site, week, chain, shape, startedMs: mondayMs + chain * 4 * hourMs }, id);
    }
}

type Site = {
  index: number;
  strainId: string;
  vesselIds: string[];
  /** The lot each chain is pitched from next. */
  crops: string[];
  lineId: string;
};

function* freshCulture(
  site: Site,
  week: number,
  mondayMs: number,
  id: () => string,
): Generator<Made> {
  const lotId = id();
  const amountKg = 11 * site.vesselIds.length;
  site.lineId = lotId;
  site.crops = site.vesselIds.map(() => lotId);
  yield {
    id: lotId,
    entry: {
      kind: 'freshCulture',
      happenedAt: new Date(mondayMs).toISOString(),
      by,
      strainId: site.strainId,
      origin: 'bought',
      generation: 0,
      code: `S${site.index}-F${week}`,
      amountKg,
    },
    derived: { generation: 0, times_pitched: 0, line_id: lotId, left_l: null, left_kg: 0 },
  };
}

type Brew = { site: Site; week: number; chain: number; shape: Shape; startedMs: number };

/** One brew from collection to racking, its crop counted, stained, and half thrown away. */
function* brew({ site, week, chain, shape, startedMs }: Brew, id: () => string): Generator<Made> {
  const at = (hours: number) => new Date(startedMs + hours * hourMs).toISOString();
  const generation = (week % shape.generations) + 1;
  const gyle = `S${site.index}-${week}-${chain}`;
  const fermentId = id();
  const own = { by, fermentId };
  yield {
    id: fermentId,
    entry: {
      kind: 'ferment',
      happenedAt: at(0),
      by,
      gyle,
      beer: chain === 0 ? 'Headland Bitter' : 'Slack Water Pale',
      vesselId: site.vesselIds[chain] ?? '',
      strainId: site.strainId,
      volumeL: 1636.6,
      originalGravitySg: 1.04,
      setTempC: 19,
    },
    derived: {
      pitched_ms: startedMs + hourMs,
      chilled_ms: startedMs + 96 * hourMs,
      racked_ms: startedMs + 120 * hourMs,
    },
  };
  const lotId = site.crops[chain] ?? '';
  yield {
    id: id(),
    entry: { kind: 'pitch', happenedAt: at(1), ...own, lotId, amountKg: 11 },
  };
  for (let index = 0; index < shape.readingsPerFerment; index += 1) {
    const hours = 2 + (index * 92) / shape.readingsPerFerment;
    yield { id: id(), entry: { kind: 'reading', happenedAt: at(hours), ...own, ...state(hours) } };
  }
  const cropId = id();
  const isLast = week === shape.weeks - 1;
  const isUsed = !isLast && (week + 1) % shape.generations !== 0;
  yield {
    id: cropId,
    entry: {
      kind: 'crop',
      happenedAt: at(60),
      ...own,
      cut: 'skim 2',
      gravitySg: 1.014,
      code: `TN-${gyle}A`,
      amountKg: 30,
    },
    derived: {
      generation,
      times_pitched: generation,
      line_id: site.lineId,
      left_l: null,
      left_kg: isLast ? 30 : 0,
    },
  };
  yield* onTheBench(cropId, at, id);
  if (!isLast)
    yield {
      id: id(),
      entry: {
        kind: 'discard',
        happenedAt: at(90),
        by,
        lotId: cropId,
        amountKg: isUsed ? 19 : 30,
        why: 'Spare',
      },
    };
  yield { id: id(), entry: { kind: 'chill', happenedAt: at(96), ...own, toTempC: 10 } };
  yield {
    id: id(),
    entry: { kind: 'rack', happenedAt: at(120), ...own, gravitySg: 1.01, batches: [`C${gyle}`] },
  };
  site.crops[chain] = cropId;
}

function* onTheBench(
  lotId: string,
  at: (hours: number) => string,
  id: () => string,
): Generator<Made> {
  yield { id: id(), entry: { kind: 'storeReading', happenedAt: at(61), by, lotId, tempC: 3 } };
  yield {
    id: id(),
    entry: {
      kind: 'count',
      happenedAt: at(62),
      by,
      lotId,
      basis: 'g',
      chamber: 'improved Neubauer, medium squares',
      squareAreaMm2: 0.04,
      depthMm: 0.1,
      pipettingSteps: 1,
      fillings: [{ squares: [38, 41, 35, 37, 36], dilutionFactor: 200, dilution: 1 }],
    },
  };
  yield {
    id: id(),
    entry: {
      kind: 'stain',
      happenedAt: at(62),
      by,
      lotId,
      stain: 'methylene blue',
      live: 388,
      dead: 12,
    },
  };
}

/** A ferment of the shape most have: half way at about 30 hours. */
function state(hours: number) {
  const fallen = 1 / (1 + Math.exp(-(hours - 30) / 7));
  return {
    gravitySg: Math.round((1.04 - 0.03 * fallen) * 1e4) / 1e4,
    tempC: Math.round((18.5 + 2 * fallen) * 10) / 10,
  };
}

/** Version 7 UUIDs in order, none given twice. */
function ids(startMs: number): () => string {
  let serial = 0;
  const random = new Uint8Array(10);
  const view = new DataView(random.buffer);
  return () => {
    serial += 1;
    view.setUint32(4, serial);
    return uuidV7(startMs, random);
  };
}

const codeOf = (index: number) => `T${index.toString(36).toUpperCase().padStart(2, '0')}`;
