import type { Reason } from '#shared/verdict.ts';
import type {
  FermentStanding,
  LinePoint,
  LineStanding,
  LotRecord,
  Recorded,
  StrainView,
} from '#shared/views.ts';

export type LineLot = {
  id: string;
  code: string;
  generation: number;
  happenedMs: number;
  left: number;
  record: LotRecord;
  stains: readonly Recorded<'stain'>[];
};

export type LineEvidence = {
  id: string;
  strain: StrainView;
  lots: readonly LineLot[];
  ferments: readonly FermentStanding[];
};

/** Generations before the limit at which a line is flagged as due soon. */
const soonWithin = 2;

/** How a line, all that descends from one fresh culture, is ageing. */
export function lineStanding({ id, strain, lots, ferments }: LineEvidence): LineStanding {
  const source = lots.find((lot) => lot.id === id);
  const inStore = lots.filter((lot) => lot.left > 0);
  const running = ferments.filter((ferment) => ferment.state !== 'racked');
  const highest = Math.max(0, ...lots.map((lot) => lot.generation));
  const isOver = inStore.length === 0 && running.length === 0;
  const alive = Math.max(
    0,
    ...inStore.map((lot) => lot.generation),
    ...running.map((ferment) => ferment.generation ?? 0),
  );
  return {
    id,
    code: source?.code ?? '',
    strain,
    startedAt: source === undefined ? '' : new Date(source.happenedMs).toISOString(),
    highestGeneration: highest,
    lotsInStore: inStore.length,
    running: running.length,
    state: isOver ? 'ended' : stateAt(alive, strain),
    reasons: isOver ? [] : [generationReason(alive, strain, id)],
    points: ferments.flatMap((ferment) => linePoint(ferment, lots)).sort(byPitching),
  };
}

const byPitching = (a: LinePoint, b: LinePoint) =>
  Date.parse(a.pitchedAt) - Date.parse(b.pitchedAt);

function stateAt(generation: number, strain: StrainView): LineStanding['state'] {
  if (generation >= strain.maxGenerations) return 'due';
  if (generation >= strain.maxGenerations - soonWithin) return 'due soon';
  return generation < 2 ? 'settling' : 'steady';
}

function generationReason(generation: number, strain: StrainView, lineId: string): Reason {
  const left = strain.maxGenerations - generation;
  return {
    rule: 'generations',
    verdict: left < 0 ? 'past it' : 'fit',
    text:
      left <= 0
        ? 'The house limit of generations is reached: fresh culture is due'
        : `${left} more generation${left === 1 ? '' : 's'} before the house limit`,
    figure: `generation ${generation}, counted from 0`,
    limit: `at most ${strain.maxGenerations}`,
    source: "the strain's limits in Setup; no number of generations is a scientific limit",
    evidence: 'house policy',
    recordId: lineId,
  };
}

function linePoint(ferment: FermentStanding, lots: readonly LineLot[]): LinePoint[] {
  const first = ferment.pitches[0];
  if (first === undefined) return [];
  return [
    {
      fermentId: ferment.id,
      gyle: ferment.record.gyle,
      beer: ferment.record.beer,
      pitchedAt: first.happenedAt,
      generation: ferment.generation ?? first.generation,
      viabilityPercent: viabilityAtPitching(first, lots),
      halfTimeHours: ferment.halfTimeHours,
      apparentAttenuationPercent:
        ferment.state === 'racked' || ferment.state === 'chilled'
          ? ferment.apparentAttenuationPercent
          : null,
      cropRatio: cropRatio(ferment, lots),
    },
  ];
}

function viabilityAtPitching(pitch: Recorded<'pitch'>, lots: readonly LineLot[]): number | null {
  const stains = lots.find((lot) => lot.id === pitch.lotId)?.stains ?? [];
  const stain = stains.findLast(
    (candidate) => Date.parse(candidate.happenedAt) <= Date.parse(pitch.happenedAt),
  );
  return stain === undefined ? null : (100 * stain.live) / (stain.live + stain.dead);
}

// Crop over pitch, only when all of it was measured in one unit.
function cropRatio(ferment: FermentStanding, lots: readonly LineLot[]): number | null {
  const crops = ferment.crops.flatMap((crop) => {
    const lot = lots.find((candidate) => candidate.id === crop.lotId);
    return lot === undefined ? [] : [lot.record];
  });
  const litres = [sum(crops, 'amountL'), sum(ferment.pitches, 'amountL')] as const;
  const kilograms = [sum(crops, 'amountKg'), sum(ferment.pitches, 'amountKg')] as const;
  for (const [out, into] of [litres, kilograms])
    if (out !== null && into !== null && into > 0) return out / into;
  return null;
}

type Unit = 'amountL' | 'amountKg';
type Measured = { [unit in Unit]?: number | undefined };

function sum(items: readonly Measured[], unit: Unit): number | null {
  if (items.length === 0) return null;
  let total = 0;
  for (const item of items) {
    const amount = item[unit];
    if (amount === undefined) return null;
    total += amount;
  }
  return total;
}
