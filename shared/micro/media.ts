import { WILD_YEAST_DISCARD_PER_MILLION } from '#shared/science/contaminants.ts';
import type { Recorded } from '#shared/views/recorded.ts';
import type { PlateReading } from '#shared/words.ts';

/** A medium or test as the bench uses it: what it shows, and when it is read. */
export type Medium = {
  name: string;
  looksFor: string;
  reads: PlateReading;
  readAfterDays: number;
  tempC?: number | undefined;
  /** Contaminants per million culture cells at which the yeast is thrown away. */
  discardPerMillion?: number | undefined;
  retired?: boolean | undefined;
  note?: string | undefined;
  /** Where the figures come from. */
  source: string;
  /** The brewery's own entry; null while the preset stands. */
  record: Recorded<'medium'> | null;
};

const fromMemory = 'Common practice, no source: days and temperature from memory';
const wildYeastLimit = {
  discardPerMillion: WILD_YEAST_DISCARD_PER_MILLION,
  source: `${fromMemory}; limit: Richards 1968 (wild yeast of the brewing kind), second hand`,
} as const;

const preset = (
  name: string,
  looksFor: string,
  readAfterDays: number,
  facts: Partial<Medium> = {},
): Medium => ({
  name,
  looksFor,
  reads: 'colonies',
  readAfterDays,
  tempC: 27,
  source: fromMemory,
  record: null,
  ...facts,
});

/** What a bench usually has; each stands until the brewery writes its own under the same name. */
export const presetMedia: readonly Medium[] = [
  preset('WLN', 'all yeast, by colour and shape of colony', 4),
  preset('WLD', 'bacteria, and wild yeast not of the brewing kind', 5, { tempC: 28 }),
  preset('UBA', 'lactic acid bacteria', 6, { note: 'without air' }),
  preset('Raka-Ray', 'lactic acid bacteria', 6, { note: 'without air' }),
  preset('MRS', 'lactic acid bacteria', 6, { note: 'without air' }),
  preset('HLP', 'lactic acid bacteria in yeast', 3, { note: 'in deep tubes' }),
  preset('LWYM', 'wild yeast of the brewing kind', 4, wildYeastLimit),
  preset('Lysine agar', 'wild yeast not of the brewing kind', 4, {
    ...wildYeastLimit,
    tempC: 25,
    note: 'read every day',
  }),
  preset('Copper agar', 'wild yeast of most kinds', 5, wildYeastLimit),
  preset('TTC overlay', 'petites', 4, { reads: 'share', note: 'overlay, then 3 h at 30 °C' }),
  preset('PCR for STA1', 'diastatic yeast', 1, { reads: 'presence', tempC: undefined }),
];

/** The presets and the brewery's own media, which replace presets of the same name; by name. */
export function mediaInUse(recorded: readonly Recorded<'medium'>[]): Medium[] {
  const own = recorded.map((record): Medium => ({ ...record, source: 'the house', record }));
  const named = new Set(own.map(({ name }) => keyOf(name)));
  return [...own, ...presetMedia.filter(({ name }) => !named.has(keyOf(name)))].sort((a, b) =>
    a.name.localeCompare(b.name, 'en'),
  );
}

export function mediumNamed(media: readonly Medium[], name: string): Medium | undefined {
  return media.find((medium) => keyOf(medium.name) === keyOf(name));
}

const keyOf = (name: string) => name.trim().toLowerCase();
