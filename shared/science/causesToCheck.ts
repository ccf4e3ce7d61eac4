import type { Evidence } from './evidence.ts';
import { excessDegreesFromSg } from './gravity.ts';
import { requireNotNegative, requirePositive } from './refusal.ts';

/** Undefined where it was not measured. */
type SlowFermentRecord = {
  originalGravitySg: number;
  /** Living cells pitched over those meant to be. */
  viablePitchRatio?: number | undefined;
  oxygenMgPerL?: number | undefined;
  zincMgPerL?: number | undefined;
  fanMgPerL?: number | undefined;
  setTempC?: number | undefined;
  tempC?: number | undefined;
  viability?: number | undefined;
  storageDays?: number | undefined;
};

export const causeNames = [
  'viable pitch',
  'oxygen',
  'zinc',
  'temperature',
  'free amino nitrogen',
  'viability',
  'storage',
] as const;

export type Cause = {
  cause: (typeof causeNames)[number];
  finding: 'outside' | 'within' | 'not recorded';
  /** Figure on record and the limit, in one unit. */
  recorded: number | undefined;
  limit: number;
  side: 'at least' | 'at most';
  unit: string;
  source: string;
  evidence: Evidence;
};

type Check = Omit<Cause, 'finding' | 'recorded'> & {
  figure: (record: SlowFermentRecord) => number | undefined;
};

/** The pitch, the wort and how it is kept, the malt, and the yeast itself last. */
const checks: readonly Check[] = [
  {
    cause: 'viable pitch',
    figure: (record) => record.viablePitchRatio,
    limit: 0.8,
    side: 'at least',
    unit: 'of target',
    source: 'under-pitching is sluggish: BokulichBamforth2017; the limit is remembered',
    evidence: 'from memory',
  },
  {
    cause: 'oxygen',
    figure: (record) => record.oxygenMgPerL,
    limit: 8,
    side: 'at least',
    unit: 'mg/L',
    source: 'trade convention for ale, 8 to 12 mg/L',
    evidence: 'published',
  },
  {
    cause: 'zinc',
    figure: (record) => record.zincMgPerL,
    limit: 0.05,
    side: 'at least',
    unit: 'mg/L',
    source: 'MurphyZinc; Nobis2022 asks for 0.15',
    evidence: 'published',
  },
  {
    cause: 'temperature',
    figure: ({ tempC, setTempC }) =>
      tempC === undefined || setTempC === undefined ? undefined : setTempC - tempC,
    limit: 1,
    side: 'at most',
    unit: 'C below the set temperature',
    source: 'start temperature matters: Speers2003; the limit is remembered',
    evidence: 'from memory',
  },
  {
    cause: 'free amino nitrogen',
    figure: ({ fanMgPerL, originalGravitySg }) =>
      fanMgPerL === undefined ? undefined : fanAt1040(fanMgPerL, originalGravitySg),
    limit: 160,
    side: 'at least',
    unit: 'mg/L at 1040',
    source: 'MurphyNitrogen',
    evidence: 'published',
  },
  {
    cause: 'viability',
    figure: (record) => record.viability,
    limit: 0.9,
    side: 'at least',
    unit: 'of cells',
    source: 'trade limit for pitching yeast',
    evidence: 'published',
  },
  {
    cause: 'storage',
    figure: (record) => record.storageDays,
    limit: 7,
    side: 'at most',
    unit: 'days',
    source: 'MurphyStorage',
    evidence: 'published',
  },
];

/**
 * Free amino nitrogen scaled to a wort of 1040.
 *
 *   FAN x 40 / excess degrees
 *
 * @param fanMgPerL  as measured [mg/L], >= 0
 * @param originalGravitySg  of the wort [SG], above 1 and at most 1.2
 * @returns nitrogen at 1040 [mg/L]
 * @throws RangeError outside the bounds above
 *
 * Source: derived, so that it can be held against [MurphyNitrogen].
 */
export function fanAt1040(fanMgPerL: number, originalGravitySg: number): number {
  requireNotNegative('fanAt1040', 'fanMgPerL', fanMgPerL);
  const degrees = excessDegreesFromSg(originalGravitySg);
  requirePositive('fanAt1040', 'excess degrees', degrees);
  return (fanMgPerL * 40) / degrees;
}

/**
 * What to look into when a ferment is slow: what lies outside its limit, what nobody measured, the rest.
 *
 * @param record  figures on record, in the units of their names
 * @returns every cause with its figure, limit, source and evidence; outside first, then not recorded
 *
 * A cause outside its limit is worth a look and not proof. Sources stand beside each limit.
 */
export function causesToCheck(record: SlowFermentRecord): Cause[] {
  const causes = checks.map(({ figure, ...check }): Cause => {
    const recorded = figure(record);
    return { ...check, recorded, finding: findingOf(recorded, check) };
  });
  const order = ['outside', 'not recorded', 'within'] as const;
  return order.flatMap((finding) => causes.filter((cause) => cause.finding === finding));
}

function findingOf(recorded: number | undefined, { limit, side }: Pick<Check, 'limit' | 'side'>) {
  if (recorded === undefined) return 'not recorded';
  const short = side === 'at least' ? limit - recorded : recorded - limit;
  // Rounding in a unit conversion must not put a figure at its limit outside.
  return short <= 1e-9 * limit ? 'within' : 'outside';
}
