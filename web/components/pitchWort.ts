import type { FermentStanding } from '#shared/views/ferments.ts';
import type { Recorded, StrainView } from '#shared/views/recorded.ts';
import type { Setup } from '#shared/views/setup.ts';
import { day, gravity, volume } from '../format.ts';
import type { Option } from './fields.ts';

/** What is to be pitched: a gyle in its FV, a brew still to come, or figures typed in. */
export type Wort = {
  volumeL: number | undefined;
  gravitySg: number | undefined;
  strain: StrainView | undefined;
  /** Only into a gyle can a pitch be recorded. */
  ferment: FermentStanding | undefined;
};

export type WortSources = {
  ferments: readonly FermentStanding[];
  plannedBrews: readonly Recorded<'plannedBrew'>[];
  strains: readonly StrainView[];
};

export function wortSources(ferments: readonly FermentStanding[], setup: Setup): WortSources {
  const order = ['collected', 'fermenting', 'chilled', 'racked'];
  return {
    ferments: ferments
      .filter(({ state }) => state === 'collected' || state === 'fermenting')
      .toSorted((a, b) => order.indexOf(a.state) - order.indexOf(b.state)),
    plannedBrews: setup.plannedBrews,
    strains: setup.strains,
  };
}

export function wortOptions({ ferments, plannedBrews }: WortSources): Option[] {
  return [
    ...ferments.map(({ id, record, vessel, state }) => ({
      value: id,
      label: `${record.gyle} ${record.beer}, ${vessel}${state === 'collected' ? '' : ' (pitched already)'}`,
    })),
    ...plannedBrews.map((brew) => ({
      value: brew.id,
      label: `${day(brew.onDay)}: ${brew.beer} (planned)`,
    })),
    { value: 'typed', label: 'Another wort: type its figures' },
  ];
}

export function firstChoice({ ferments, plannedBrews }: WortSources, asked?: string): string {
  const waiting = ferments.find(({ state }) => state === 'collected');
  const known = ferments.find(({ id }) => id === asked);
  return known?.id ?? waiting?.id ?? plannedBrews[0]?.id ?? ferments[0]?.id ?? 'typed';
}

type Typed = {
  wort: string | undefined;
  volumeL: number | undefined;
  gravitySg: number | undefined;
  strainId: string | undefined;
};

export function chosenWort(sources: WortSources, typed: Typed): Wort {
  const strainOf = (id: string | undefined) => sources.strains.find((strain) => strain.id === id);
  const ferment = sources.ferments.find(({ id }) => id === typed.wort);
  if (ferment !== undefined) {
    const { volumeL, originalGravitySg } = ferment.record;
    return { volumeL, gravitySg: originalGravitySg, strain: ferment.strain, ferment };
  }
  const brew = sources.plannedBrews.find(({ id }) => id === typed.wort);
  const { volumeL, gravitySg } =
    brew === undefined ? typed : { volumeL: brew.volumeL, gravitySg: brew.originalGravitySg };
  const strain = strainOf(brew?.strainId ?? typed.strainId);
  return { volumeL, gravitySg, strain, ferment: undefined };
}

export function wortInWords({ volumeL, gravitySg, strain }: Wort): string {
  const parts = [
    volumeL === undefined ? undefined : volume(volumeL),
    gravitySg === undefined ? undefined : `OG ${gravity(gravitySg)}`,
    strain?.name,
  ];
  return parts.filter((part) => part !== undefined).join(' · ');
}
