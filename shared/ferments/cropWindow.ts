/** When the firm second head, the one to keep, is taken to stand; common practice, no source. */
export const cropWindow = {
  /** Apparent attenuation [%]: half of the usual fall to 75 %. */
  fromAttenuationPercent: 37.5,
  fromHours: 24,
} as const;
