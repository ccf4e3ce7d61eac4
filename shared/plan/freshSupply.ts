import { dayAfter, localDay, momentOn } from '#shared/localDay.ts';
import { logNormalLimits } from '#shared/science/logNormalSum.ts';
import { type LossRate, predictedViability, survivalAfter } from '#shared/science/storage.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { Ranged, Recorded, StrainView } from '#shared/views/recorded.ts';
import { hourMs } from '../durations.ts';
import { type Demand, PITCHING_HOUR } from './demand.ts';
import { lossPerHour, type Supply } from './supply.ts';

/** A fresh culture that is entered so long before its day, or later, is the one that was expected. */
const EARLY_DAYS = 10;
/** How long an expectation stands after its day has passed. */
const LATE_DAYS = 3;

/** A culture is made a quarter larger than the brew it is for; spread of its cells [-], share alive: judgements. */
const culture = { toSpare: 1.25, logSd: 0.2, alive: { value: 97, low: 94, high: 99 } } as const;

type Facts = {
  policies: readonly Recorded<'freshCulturePolicy'>[];
  lots: readonly LotStanding[];
  timeZone: string;
  fromDay: string;
};

/** The days for which fresh culture is ordered or started and not there yet, by strain. */
export function expectedCultures({ policies, lots, timeZone, fromDay }: Facts) {
  const dayOf = localDay(timeZone);
  return new Map(
    policies.flatMap(({ strainId, expectedOn }) => {
      if (expectedOn === undefined || expectedOn < dayAfter(fromDay, -LATE_DAYS)) return [];
      const isThere = lots.some(
        ({ kind, strain, takenAt }) =>
          kind === 'freshCulture' &&
          strain.id === strainId &&
          dayOf(Date.parse(takenAt)) >= dayAfter(expectedOn, -EARLY_DAYS),
      );
      return isThere ? [] : [[strainId, expectedOn] as const];
    }),
  );
}

type Expected = {
  strain: StrainView;
  expectedOn: string;
  demands: readonly Demand[];
  nowMs: number;
  timeZone: string;
  rate: LossRate;
};

/** A fresh culture to come, sized for the first brew of its strain from its day on. */
export function freshSupply({ strain, expectedOn, demands, rate, ...clock }: Expected): Supply[] {
  const brew = demands.find(
    (demand) => demand.strain.id === strain.id && demand.onDay >= expectedOn,
  );
  if (brew === undefined) return [];
  const readyMs = Math.max(clock.nowMs, momentOn(expectedOn, PITCHING_HOUR, clock.timeZone));
  const storeTempC = strain.storeHighC;
  const partsUntil = (atMs: number) => [
    { hours: Math.max(0, atMs - readyMs) / hourMs, tempC: storeTempC },
  ];
  const alivePercentAt = (atMs: number): Ranged => {
    const { value: percent, low, high } = culture.alive;
    const then = predictedViability({ percent, low, high }, partsUntil(atMs), rate);
    return { value: then.percent, low: then.low, high: then.high };
  };
  const cells = { median: culture.toSpare * brew.neededCells, logSd: culture.logSd };
  const id = `fresh-${strain.id}`;
  return [
    {
      stock: {
        id,
        strainId: strain.id,
        readyAtHours: readyMs / hourMs,
        expiresAtHours: Number.POSITIVE_INFINITY,
        viableCells: cells.median,
        viability: culture.alive.value / 100,
        lossPerHour: lossPerHour(storeTempC, rate),
      },
      generation: 0,
      source: {
        id,
        kind: 'fresh culture',
        recordId: strain.id,
        label: `fresh ${strain.name}`,
        strainId: strain.id,
        readyAt: new Date(readyMs).toISOString(),
        useBy: null,
        cropFrom: null,
        cropTo: null,
        cells: { value: cells.median, ...logNormalLimits(cells) },
        viabilityPercent: culture.alive.value,
        left: null,
        heldBecause: null,
        why: [
          {
            label: 'Living cells of the fresh culture',
            formula: `a quarter more than ${brew.beer} needs, the first brew after it is there`,
            value: cells.median,
            unit: 'cells',
          },
        ],
      },
      logSdAt: (atMs) => Math.hypot(culture.logSd, survivalAfter(partsUntil(atMs), rate).logSd),
      alivePercentAt,
      takenMs: readyMs,
      usualRatio: null,
    },
  ];
}
