import { effect, signal } from '@preact/signals';
import type { Setup } from '#shared/views/setup.ts';
import type { gravityUnits, massUnits, temperatureUnits, volumeUnits } from '#shared/words.ts';
import { fetchSetup } from './apiClient.ts';
import { keep, kept } from './deviceMemory.ts';

export type Units = {
  volume: (typeof volumeUnits)[number];
  mass: (typeof massUnits)[number];
  gravity: (typeof gravityUnits)[number];
  temperature: (typeof temperatureUnits)[number];
};

/** The brewery, its strains and FVs, as last heard; null until the first answer. */
export const setup = signal<Setup | null>(null);
export const units = signal<Units>({ volume: 'L', mass: 'kg', gravity: 'SG', temperature: '°C' });
/** What the brewery calls its fresh culture: generation 0 or 1. */
export const firstGeneration = signal<0 | 1>(0);
/** Who is using this device; empty until someone says so. */
export const person = signal(kept('barmbook.person') ?? '');
export const appearance = signal(kept('barmbook.appearance') ?? 'system');

export async function refreshSetup(abort?: AbortSignal): Promise<Setup> {
  const fresh = await fetchSetup(abort);
  setup.value = fresh;
  const { brewery } = fresh;
  if (brewery !== null) {
    firstGeneration.value = brewery.firstGeneration;
    units.value = {
      volume: brewery.volumeUnit,
      mass: brewery.massUnit,
      gravity: brewery.gravityUnit,
      temperature: brewery.temperatureUnit,
    };
  }
  return fresh;
}

effect(() => keep('barmbook.person', person.value === '' ? null : person.value));
effect(() => {
  keep('barmbook.appearance', appearance.value);
  // The pure parts of the pages are also read where there is no page.
  if ('document' in globalThis) document.documentElement.dataset.theme = appearance.value;
});
