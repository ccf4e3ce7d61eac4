/** [ms]. */
export const minuteMs = 60_000;
export const hourMs = 60 * minuteMs;
/** Twenty-four hours; a day on the wall clock may have one more or less. */
export const dayMs = 24 * hourMs;
