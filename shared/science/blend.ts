import { logNormalLimits, logNormalSum } from './logNormalSum.ts';
import { bringsAtMost, type PitchLot, viableCellsPerUnit } from './lotContribution.ts';
import { Z_95 } from './normal.ts';
import { refuse, requirePositive } from './refusal.ts';

export type BlendPart = PitchLot & { amount: number };

/**
 * What a blend of lots holds: cells in a mL or g, and the share of them alive, by weight of cells.
 *
 *   c = sum a_i c_i / sum a_i,  v = sum w_i v_i s_i with w_i = a_i c_i / sum a_i c_i;
 *   var v = sum (w_i v_i s_i)^2 (s_v,i^2 + s_s,i^2) + sum w_i^2 (v_i s_i - v)^2 s_c,i^2
 *
 * @param parts  lots as viableCellsPerUnit takes them, all in one unit, each with its amount a_i
 *   [L or kg], > 0
 * @returns amount [L or kg], cells [cells/mL or cells/g] with 95 % range and logSd, viability [-] with
 *   95 % range, 0 to 1, and logSd, and whether that is only an upper limit
 * @throws RangeError outside the bounds above
 *
 * Errors of different lots are taken as independent; volumes as adding up. Source: derived, delta method.
 */
export function blendOf(parts: readonly BlendPart[]) {
  const [first] = parts;
  if (first === undefined) return refuse('blendOf', 'parts must hold at least one', 0);
  const lots = parts.map((part) => {
    requirePositive('blendOf', 'amount', part.amount);
    if (part.unit !== first.unit) refuse('blendOf', 'parts must be in one unit', part.unit);
    return cellsOf(part);
  });
  const amount = parts.reduce((sum, part) => sum + part.amount, 0);
  const total = lots.reduce((sum, { cells }) => sum + cells, 0);
  const { logSd } = logNormalSum(
    lots.map(({ cells, concentration }) => ({ median: cells, logSd: Math.sqrt(concentration) })),
  );
  const alive = lots.reduce((sum, { cells, share }) => sum + (cells / total) * share, 0);
  const variance = lots.reduce((sum, { cells, share, living, concentration }) => {
    const weight = cells / total;
    return (
      sum + (weight * share) ** 2 * living + weight ** 2 * (share - alive) ** 2 * concentration
    );
  }, 0);
  const per = { median: total / (1000 * amount), logSd };
  const viabilityLogSd = Math.sqrt(variance) / alive;
  const factor = Math.exp(Z_95 * viabilityLogSd);
  return {
    unit: first.unit,
    amount,
    cellsPer: { value: per.median, ...logNormalLimits(per) },
    cellsLogSd: logSd,
    viability: { value: alive, low: alive / factor, high: Math.min(1, alive * factor) },
    viabilityLogSd,
    viabilityAtMost: bringsAtMost(
      parts,
      parts.map((part) => part.amount),
    ),
  };
}

function cellsOf(part: BlendPart) {
  const share = part.viability * (part.survival ?? 1);
  const living = part.viabilityLogSd ** 2 + (part.survivalLogSd ?? 0) ** 2;
  return {
    cells: (part.amount * viableCellsPerUnit(part).median) / share,
    share,
    concentration: part.concentrationLogSd ** 2,
    living,
  };
}
