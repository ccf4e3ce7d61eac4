import { logNormalLimits, logNormalSum } from '#shared/science/logNormalSum.ts';
import type { Shortage } from '#shared/science/planShortage.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { Ranged } from '#shared/views/recorded.ts';
import { hourMs } from '../durations.ts';
import { blockedFor } from './allotting.ts';
import { blockWords } from './blockWords.ts';
import type { Demand } from './demand.ts';
import type { PlanShortage, PlanSource } from './planView.ts';
import type { Supply } from './supply.ts';
import { usualSlurry } from './usualSlurry.ts';

type Known = {
  demand: Demand;
  supplies: readonly Supply[];
  sources: readonly PlanSource[];
  lots: readonly LotStanding[];
  /** Share alive of the strain's crops [-]. */
  viability: Ranged;
};

/** What a brew without enough yeast lacks, why its strain's lots do not help, and what would. */
export function planShortage(shortage: Shortage, known: Known): PlanShortage {
  const { demand, supplies, sources, lots, viability } = known;
  const { neededCells, availableCells, missingCells } = shortage;
  const isBlocked = new Set(shortage.blocked.map(({ lotId }) => lotId));
  const logSds = supplies
    .filter(({ stock }) => stock.strainId === demand.strain.id && !isBlocked.has(stock.id))
    .map(({ logSdAt }) => logSdAt(demand.atMs));
  const logSd = Math.max(0, ...logSds);
  const available = { value: availableCells, ...limitsOf(availableCells, logSd) };
  const missing = {
    value: missingCells,
    low: Math.max(0, neededCells - available.high),
    high: Math.max(0, neededCells - available.low),
  };
  return {
    brewId: demand.id,
    onDay: demand.onDay,
    beer: demand.beer,
    strainId: demand.strain.id,
    neededCells,
    availableCells: available,
    missingCells: missing,
    missingSlurry: usualSlurry(missing, { strain: demand.strain, lots, viability }),
    volumeWithoutL: demand.volumeL * (missingCells / neededCells),
    blocked: shortage.blocked.flatMap(({ lotId, reason }) => {
      const supply = supplies.find(({ stock }) => stock.id === lotId);
      const why = supply && blockWords(reason, supply);
      const isLater = supply?.fromBrewId !== undefined && reason === 'not ready yet';
      return supply === undefined || why === undefined || isLater
        ? []
        : [{ sourceId: lotId, label: supply.source.label, reason, why }];
    }),
    cropMoreOf: supplies.flatMap((supply) => {
      const source = sources.find(({ id }) => id === supply.stock.id);
      return source === undefined ? [] : moreOf(supply, source, { demand, missingCells });
    }),
  };
}

function limitsOf(cells: number, logSd: number): Pick<Ranged, 'low' | 'high'> {
  return logNormalLimits(logNormalSum([{ median: cells, logSd }]));
}

/** A crop still to be taken that is fit for the brew: how much of it would have to be kept. */
function moreOf(
  supply: Supply,
  source: PlanSource,
  { demand, missingCells }: { demand: Demand; missingCells: number },
): PlanShortage['cropMoreOf'] {
  const { stock, usualRatio } = supply;
  const isOther = stock.strainId !== demand.strain.id || supply.fromBrewId === demand.id;
  if (isOther || usualRatio === null || source.generation === null) return [];
  const isFit = blockedFor(demand, { ...supply, generation: source.generation }) === undefined;
  if (!isFit || !(stock.viableCells > 0)) return [];
  const hours = demand.atMs / hourMs - stock.readyAtHours;
  const kept = Math.exp(-(stock.lossPerHour ?? 0) * hours);
  const used = Math.max(source.sharePlanned, 1);
  const ratio = usualRatio.value * (used + missingCells / (stock.viableCells * kept));
  return [
    { sourceId: source.id, label: source.label, readyAt: source.readyAt, ratio, usual: usualRatio },
  ];
}
