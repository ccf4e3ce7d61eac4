import { storageLoss } from './knownLot.ts';
import { type LotRequest, unitOf } from './lotRequest.ts';

/** A share so small that the lot is dead for all purposes [-]. */
const DEAD_BELOW = 1e-3;

type LotFault = { field: string; message: string };

/** What is wrong with a lot that the single fields cannot tell. */
export function lotFaults(given: LotRequest): LotFault[] {
  return [...concentrationFaults(given), ...viabilityFaults(given), ...amountFaults(given)];
}

function concentrationFaults(given: LotRequest): LotFault[] {
  const { cellsPerMl, cellsPerG, count, fallback, spunPercent, relativeError } = given;
  const stated = [cellsPerMl, cellsPerG].filter((each) => each !== undefined).length;
  const guessed = [fallback, spunPercent].filter((each) => each !== undefined).length;
  const faults: LotFault[] = [];
  if (stated === 2)
    faults.push({ field: 'cellsPerG', message: 'Give cellsPerMl or cellsPerG, not both' });
  if (stated === 0 && guessed === 0 && count === undefined)
    faults.push({
      field: 'cellsPerMl',
      message:
        'Give cells per mL, cells per g, or the count behind it; failing these, fallback or spunPercent',
    });
  if (guessed > 0 && (guessed === 2 || stated > 0 || count !== undefined))
    faults.push({
      field: fallback === undefined ? 'spunPercent' : 'fallback',
      message: 'A guess stands in for a count: give one or the other',
    });
  if (count !== undefined && relativeError !== undefined)
    faults.push({
      field: 'relativeError',
      message: 'Give the count or a relative error, not both',
    });
  if (count !== undefined && cellsSeen(count) === 0)
    faults.push({
      field: 'count',
      message: 'No cell was found in the count: dilute less and count again before pitching by it',
    });
  return faults;
}

const cellsSeen = (count: NonNullable<LotRequest['count']>) =>
  (count.fillings?.flatMap(({ squares }) => squares) ?? count.squares ?? []).reduce(
    (sum, cellsInSquare) => sum + cellsInSquare,
    0,
  );

function viabilityFaults(given: LotRequest): LotFault[] {
  const { live, dead, viabilityPercent, tempC: storeTempC, hoursSince } = given;
  const isStained = live !== undefined || dead !== undefined;
  const faults: LotFault[] = [];
  if (isStained && viabilityPercent !== undefined)
    faults.push({
      field: 'viabilityPercent',
      message: 'Give the viability as viabilityPercent, or as live and dead',
    });
  if (isStained && (live ?? 0) === 0)
    faults.push({ field: 'live', message: 'No living cell was seen: do not pitch it' });
  if (storeTempC !== undefined && hoursSince === undefined)
    faults.push({
      field: 'hoursSince',
      message: 'A store temperature needs the hours since the stain',
    });
  const { survival = 1 } = storageLoss(given);
  if (survival < DEAD_BELOW)
    faults.push({
      field: 'hoursSince',
      message:
        'So long at that temperature leaves no living cell by any reckoning: do not pitch it',
    });
  return faults;
}

function amountFaults(given: LotRequest): LotFault[] {
  const isWeighed = unitOf(given) === 'kg';
  const wrongUnit = isWeighed
    ? (given.availableL ?? given.useL)
    : (given.availableKg ?? given.useKg);
  if (wrongUnit === undefined) return [];
  return isWeighed
    ? [{ field: 'availableKg', message: 'A lot with cells per g is measured in kilograms' }]
    : [{ field: 'availableL', message: 'A lot with cells per mL is measured in litres' }];
}
