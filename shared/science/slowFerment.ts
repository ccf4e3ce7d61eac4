import type { FermentBand } from './fermentBand.ts';
import { hoursToProgress } from './fermentProgress.ts';
import { type GravityReading, orderedReadings, type ReadingNote } from './fermentReadings.ts';
import { type FlagLine, flagLine, TELLING_FALL_DEGREES } from './flagLine.ts';
import { excessDegreesFromSg } from './gravity.ts';
import { requireNotNegative } from './refusal.ts';
import { type Forecast, hoursToReach } from './runningForecast.ts';

const runningStatuses = ['on course', 'slow', 'no reading', 'done', 'too early'] as const;

export type RunningAssessment = {
  status: (typeof runningStatuses)[number];
  /** Last reading above the middle of the band; negative when ahead. */
  behindDegrees: number | undefined;
  /** Hours since the middle of the band had this gravity; undefined below the usual end gravity. */
  hoursBehind: number | undefined;
  /** Hour of the first reading of the present run outside the band. */
  sinceHours: number | undefined;
  /** Hour of the first reading above the flag line. */
  flaggedAtHours: number | undefined;
  /** From now, at 10, 50 and 90 % chance; undefined where it may never get there. */
  predictedHoursToRacking: Forecast;
  falseAlarmRate: number;
  why: string;
  notes: ReadingNote[];
};

/** A ferment not read for longer than this has no reading: common practice, no source. */
export const STALE_AFTER_HOURS = 24;

/** Error of a reading: half a degree of the saccharometer and the rest of the curve, a judgement. */
const READING_SD_DEGREES = 0.6;

/** Of healthy ferments ever called slow: one look too many in seven weeks at three brews a week. */
const FALSE_ALARM_RATE = 0.05;

/**
 * How a running ferment goes against the band of its strain.
 *
 * @param running  readings in any order; band; nowHours since the pitch [h] >= 0; rackingGravitySg [SG];
 *   line from `flagLine`, else the usual one
 * @returns status, how far behind, since when, and hours from now to the racking gravity
 * @throws RangeError for a time or gravity outside its bounds
 *
 * Slow means that a reading went above the flag line and that the last one is still above the middle of
 * the band. Source: own rule, see `flagLine`.
 */
export function assessRunning(running: {
  readings: readonly GravityReading[];
  band: FermentBand;
  nowHours: number;
  rackingGravitySg: number;
  line?: FlagLine;
}): RunningAssessment {
  const { band, nowHours, rackingGravitySg } = running;
  requireNotNegative('assessRunning', 'nowHours', nowHours);
  const line = running.line ?? usualFlagLine(band);
  const { readings: ordered, notes } = orderedReadings(running.readings);
  const readings = ordered.filter(({ hours }) => hours <= nowHours);
  const compared = readings.map((reading) => comparedWithBand(reading, band, line));
  const last = compared.at(-1);
  const flagged = compared.find(({ isFlagged }) => isFlagged);
  const found = {
    behindDegrees: last?.behindDegrees,
    hoursBehind: last && hoursBehind(last, band),
    sinceHours: compared[compared.findLastIndex(({ isOutside }) => !isOutside) + 1]?.hours,
    flaggedAtHours: flagged?.hours,
    predictedHoursToRacking: hoursFromNow(running, readings),
    falseAlarmRate: line.falseAlarmRate,
    notes,
  };
  if (last && last.gravitySg <= rackingGravitySg) {
    return { ...found, status: 'done', why: 'the racking gravity is reached' };
  }
  if (flagged && (found.behindDegrees ?? 0) > 0) {
    return { ...found, status: 'slow', why: whyBehind(found) };
  }
  if (!isTellingAt(band.at(nowHours).mid, band)) {
    const why = `a fall of less than ${TELLING_FALL_DEGREES} degrees is usual by now`;
    return { ...found, status: 'too early', why };
  }
  if (last === undefined || nowHours - last.hours > STALE_AFTER_HOURS) {
    const why = last ? `last read at hour ${Math.round(last.hours)}` : 'not read since the pitch';
    return { ...found, status: 'no reading', why };
  }
  return { ...found, status: 'on course', why: whyBehind(found) };
}

/**
 * The flag line at the usual reading error and false-alarm rate.
 *
 * @param band  as `expectedBand` returns it
 * @returns the line, to be kept while the band stays the same
 *
 * Source: see `flagLine`.
 */
export function usualFlagLine({ ferments }: FermentBand): FlagLine {
  const rule = { readingSdDegrees: READING_SD_DEGREES, falseAlarmRate: FALSE_ALARM_RATE };
  return flagLine(ferments, rule);
}

/**
 * One reading against the band and the flag line.
 *
 * @param reading  hours since the pitch [h] and gravity [SG]
 * @param band  as `expectedBand` returns it
 * @param line  as `flagLine` returns it
 * @returns the reading with degrees behind the middle, whether above the band, and whether it flags
 *
 * Neither is told before a fall of three degrees is usual. Source: see `flagLine`.
 */
export function comparedWithBand(reading: GravityReading, band: FermentBand, line: FlagLine) {
  const { hours, gravitySg } = reading;
  const { mid, high } = band.at(hours);
  const isTelling = isTellingAt(mid, band);
  return {
    ...reading,
    behindDegrees: (gravitySg - mid) * 1000,
    isOutside: isTelling && gravitySg > high,
    isFlagged: isTelling && gravitySg > line.at(hours),
  };
}

const isTellingAt = (usualSg: number, { originalGravitySg }: FermentBand) =>
  (originalGravitySg - usualSg) * 1000 >= TELLING_FALL_DEGREES;

function hoursFromNow(
  { band, nowHours, rackingGravitySg }: Parameters<typeof assessRunning>[0],
  readings: readonly GravityReading[],
): Forecast {
  const hours = hoursToReach(readings, band.ferments, rackingGravitySg, READING_SD_DEGREES);
  const left = (at: number | undefined) => (at === undefined ? at : Math.max(at - nowHours, 0));
  return { low: left(hours.low), mid: left(hours.mid), high: left(hours.high) };
}

function hoursBehind({ hours, gravitySg }: GravityReading, band: FermentBand): number | undefined {
  const original = excessDegreesFromSg(band.originalGravitySg);
  const fall = original - excessDegreesFromSg(band.endGravitySg.mid);
  const pace = { halfTimeHours: band.halfTimeHours.mid, ratePerHour: band.ratePerHour.mid };
  const usual = hoursToProgress(pace, (original - excessDegreesFromSg(gravitySg)) / fall);
  return Number.isFinite(usual) ? hours - usual : undefined;
}

function whyBehind(found: Pick<RunningAssessment, 'behindDegrees' | 'sinceHours'>): string {
  const { behindDegrees = 0, sinceHours } = found;
  const side = behindDegrees > 0 ? 'above' : 'below';
  const far = `${Math.abs(behindDegrees).toFixed(1)} degrees ${side} what is usual by now`;
  return sinceHours === undefined
    ? far
    : `${far}, and out of the usual range since hour ${Math.round(sinceHours)}`;
}
