import * as z from 'zod/mini';
import { choice, quantity, tempC, whole } from '#shared/fields.ts';
import { type LossRate, priorLossRate } from '#shared/science/lossRate.ts';
import { Z_95 } from '#shared/science/normal.ts';
import { stainNames } from '#shared/science/stains.ts';
import { equivalentDays, predictedViability, survivalAfter } from '#shared/science/storage.ts';
import { viabilityFromStain } from '#shared/science/viability.ts';
import { stainReading } from './knownLot.ts';
import { assumed } from './lotRequest.ts';

const part = z.strictObject({
  hours: quantity('Hours', 'hours', { min: 0, max: 10_000 }),
  tempC,
});

export const storageRequest = z
  .strictObject({
    viabilityPercent: z.optional(quantity('Viability', '%', { above: 0, max: 100 })),
    live: z.optional(whole('Live cells', { min: 0, max: 1_000_000 })),
    dead: z.optional(whole('Dead cells', { min: 0, max: 1_000_000 })),
    stain: z.optional(choice('Stain', stainNames)),
    history: z
      .array(part, { error: 'history must be a list of hours and tempC' })
      .check(z.maxLength(1000, { error: 'At most 1000 parts of a history' })),
    /** A loss rate of one's own at 1 °C; the published prior when left out. */
    lossPerDay: z.optional(quantity('Loss', 'per day at 1 °C', { min: 1e-6, max: 2 })),
    lossLogSd: z.optional(quantity('Spread of the loss', 'as a logSd', { min: 0, max: 3 })),
    /** The least viability that is pitched. */
    limitPercent: z.optional(quantity('Limit', '%', { min: 0, max: 100 })),
  })
  .check((context) => {
    const { viabilityPercent, live, dead } = context.value;
    const refuse = (path: string, message: string) =>
      context.issues.push({ code: 'custom', input: context.value, path: [path], message });
    const isStained = live !== undefined || dead !== undefined;
    if (isStained === (viabilityPercent !== undefined))
      refuse('viabilityPercent', 'Give the viability as viabilityPercent, or as live and dead');
    if (isStained && (live ?? 0) + (dead ?? 0) === 0)
      refuse('live', 'Count one cell at least, live or dead');
  });

type StorageRequest = z.output<typeof storageRequest>;

type StorageReply = {
  /** Always: this is reckoned, not measured. */
  predicted: true;
  percent: number;
  low: number;
  high: number;
  /** Only the most that can be alive, since the stain could tell no more. */
  atMost: boolean;
  /** The time in store as days at 1 °C. */
  equivalentDays: number;
  survival: { fraction: number; low: number; high: number };
  /** Whether the range lies on both sides of the limit, so that only a stain can tell. */
  stainAgain: boolean;
  warnings: string[];
};

const presetLimitPercent = 90;

/** The viability to expect after a time in store; never a measurement. */
export function storageCalculation(request: StorageRequest): StorageReply {
  const { history, limitPercent = presetLimitPercent } = request;
  const measured = viabilityFromStain(stainReading({ ...request, live: liveOf(request) }));
  const rate = rateOf(request);
  const percent = request.viabilityPercent ?? measured.percent;
  const range = {
    percent,
    low: Math.min(measured.low, percent),
    high: Math.max(measured.high, percent),
  };
  const { logSd: _, ...predicted } = predictedViability(range, history, rate);
  const { logSd: __, ...survival } = survivalAfter(history, rate);
  const atMost = measured.validity === 'at or below';
  const low = atMost ? 0 : predicted.low;
  const stainAgain = low < limitPercent && limitPercent <= predicted.high;
  return {
    predicted: true,
    ...predicted,
    low,
    atMost,
    equivalentDays: equivalentDays(history, undefined, rate.q10),
    survival,
    stainAgain,
    warnings: warningsFor(request, { atMost, stainAgain, limitPercent }),
  };
}

/** With dead cells alone the live ones are none. */
const liveOf = ({ live, dead }: StorageRequest) => live ?? (dead === undefined ? undefined : 0);

function rateOf({ lossPerDay, lossLogSd }: StorageRequest): LossRate {
  return {
    perDay: lossPerDay ?? priorLossRate.perDay,
    logSd: lossLogSd ?? priorLossRate.logSd,
    q10: priorLossRate.q10,
  };
}

/** Published temperatures end here; beyond, the law is only carried on [°C]. */
const warmestKnownC = 25;
function warningsFor(
  { viabilityPercent, lossPerDay, history }: StorageRequest,
  found: { atMost: boolean; stainAgain: boolean; limitPercent: number },
): string[] {
  const factor = Math.exp(Z_95 * priorLossRate.logSd).toFixed(0);
  return [
    viabilityPercent !== undefined &&
      `The viability is taken as read from ${assumed.stainedCells} cells; give live and dead for its true range.`,
    lossPerDay === undefined &&
      `The loss is the published one of a single lager strain (McCaig & Bendiak 1985), within a factor of ${factor} either way.`,
    history.some(({ tempC: at }) => at > warmestKnownC) &&
      `Warmer than ${warmestKnownC} °C nothing is published: the figure is carried on from below.`,
    found.atMost &&
      'The stain could only tell the most that is alive; the true share may be lower.',
    found.stainAgain &&
      `The range lies on both sides of ${found.limitPercent} %: stain it again before it is pitched.`,
  ].filter((warning) => warning !== false);
}
