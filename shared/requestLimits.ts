import { minuteMs } from './durations.ts';

/** How often one caller may ask: so many at once, then so many a minute. */
export type RequestLimit = { perMinute: number; atOnce: number; words: string };

/**
 * The one table of it. Far above what pages and sensors need: it is there to keep a program that
 * has gone wild from holding up everyone else.
 */
export const requestLimits = {
  // A page opened anew asks 5 to 15 times: ten tabs at once, or forty pages a minute, are let pass.
  session: { perMinute: 600, atOnce: 300, words: 'requests from one sign-in' },
  // Every table once, and the whole log.
  export: { perMinute: 6, atOnce: 30, words: 'exports from one sign-in' },
  // A gateway that posts for thirty FVs, each once a minute.
  device: { perMinute: 30, atOnce: 60, words: 'posts with one device token' },
  // The sums answer to anyone; the pages work theirs out themselves. The longest takes a tenth of a second.
  sum: { perMinute: 120, atOnce: 30, words: 'sums from one address' },
  feed: { perMinute: 6, atOnce: 12, words: 'readings of one calendar address' },
} as const satisfies Record<string, RequestLimit>;

export type RequestLimitName = keyof typeof requestLimits;

/** The shortest time between entries sent one after another that never meets the limit [ms]. */
export const unhurriedMs = (1.2 * minuteMs) / requestLimits.session.perMinute;
