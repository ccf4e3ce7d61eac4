/**
 * What an acid wash may be. Plain acid: pH 2.1 and at most 5 °C, mixed well, then pitched at once
 * (Simpson & Hammond 1989); pH 2.2 to 2.5 for two hours (Oxford Companion to Beer). Persulphate: pH
 * 2.8 (Simpson 1987, abstract); the width of that band is common practice, no source.
 */
export const acidWashBounds = {
  plainPh: { low: 2, high: 2.5 },
  persulphatePh: { low: 2.6, high: 3 },
  warmestC: 5,
  longestMinutes: 120,
  /** Washed yeast is pitched at once; an hour for the carrying is common practice, no source. */
  longestWaitHours: 1,
  /** Yeast from stronger beer [% v/v] is not washed unless diluted first; from memory. */
  strongestAbvPercent: 8,
} as const;

export const washAgents = [
  'Phosphoric acid',
  'Sulphuric acid',
  'Acidified ammonium persulphate',
] as const;

export type Wash = {
  agent?: string | undefined;
  ph?: number | undefined;
  tempC?: number | undefined;
  minutes?: number | undefined;
};

type WashFinding = { field: 'ph' | 'tempC' | 'minutes'; text: string; source: string };

export const phBoundsOf = (agent: string | undefined) =>
  /persul/i.test(agent ?? '') ? acidWashBounds.persulphatePh : acidWashBounds.plainPh;

/** What of a wash lies outside its bounds; it is recorded all the same. */
export function washFindings({ agent, ph, tempC, minutes }: Wash): WashFinding[] {
  const bounds = phBoundsOf(agent);
  const findings: WashFinding[] = [];
  if (ph !== undefined && ph < bounds.low)
    findings.push({
      field: 'ph',
      text: `pH ${ph} is below ${bounds.low}: it may have harmed the yeast`,
      source: 'Simpson & Hammond 1989; Fernandez et al. 1993: one strain of two was harmed at 2.0',
    });
  if (ph !== undefined && ph > bounds.high)
    findings.push({
      field: 'ph',
      text: `pH ${ph} is above ${bounds.high}: it may have killed no bacteria`,
      source: 'Simpson & Hammond 1989; Oxford Companion to Beer',
    });
  if (tempC !== undefined && tempC > acidWashBounds.warmestC)
    findings.push({
      field: 'tempC',
      text: `${tempC} °C is warmer than ${acidWashBounds.warmestC} °C: it may have harmed the yeast`,
      source: 'Simpson & Hammond 1989',
    });
  if (minutes !== undefined && minutes > acidWashBounds.longestMinutes)
    findings.push({
      field: 'minutes',
      text: `${minutes} minutes is longer than ${acidWashBounds.longestMinutes}: it may have harmed the yeast`,
      source: 'Oxford Companion to Beer',
    });
  return findings;
}

/** What is known of yeast that is about to be washed. */
type WashedYeast = {
  /** Share alive by the last stain [%], if it was stained. */
  viabilityPercent: number | null;
  minViabilityPercent: number;
  storedDays: number;
  maxStorageDays: number;
  isFresh: boolean;
  hasContaminants: boolean;
  /** Strength of the beer it was cropped from [% v/v], if known. */
  abvPercent: number | null;
};

/** Why this yeast should not be washed; empty when nothing speaks against it. */
export function washObjections(yeast: WashedYeast): string[] {
  const { viabilityPercent, minViabilityPercent, storedDays, maxStorageDays, abvPercent } = yeast;
  const said: string[] = [];
  if (viabilityPercent !== null && viabilityPercent < minViabilityPercent)
    said.push(
      `only ${viabilityPercent.toFixed(1)} % of it was alive, below ${minViabilityPercent} %`,
    );
  if (!yeast.isFresh && storedDays > maxStorageDays)
    said.push(`it was stored for ${storedDays.toFixed(1)} days, over ${maxStorageDays}`);
  if (yeast.hasContaminants) said.push('a plate of it grew something');
  if (abvPercent !== null && abvPercent > acidWashBounds.strongestAbvPercent)
    said.push(
      `it comes from beer of ${abvPercent.toFixed(1)} % v/v, over ${acidWashBounds.strongestAbvPercent} %`,
    );
  return said;
}
