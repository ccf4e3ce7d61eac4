import { keyOfNamed, type SiteKey } from '#shared/sites/site.ts';
import type { FermentStanding } from '#shared/views/ferments.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { Recorded, StrainView } from '#shared/views/recorded.ts';
import type { Setup } from '#shared/views/setup.ts';
import { day, gravity, volume } from '../../format.ts';
import { atItsSite, siteOfBrew } from '../../sites.ts';
import type { Option } from '../form/fields.ts';

/** What is to be pitched: a gyle in its FV, a brew still to come, or figures typed in. */
export type Wort = {
  volumeL: number | undefined;
  gravitySg: number | undefined;
  strain: StrainView | undefined;
  /** Only into a gyle can a pitch be recorded. */
  ferment: FermentStanding | undefined;
  /** Whose yeast can go into it; undefined where any may. */
  siteId: SiteKey | undefined;
};

export type WortSources = {
  ferments: readonly FermentStanding[];
  plannedBrews: readonly Recorded<'plannedBrew'>[];
  strains: readonly StrainView[];
  siteOf: (brew: Recorded<'plannedBrew'>) => SiteKey;
};

export function wortSources(ferments: readonly FermentStanding[], setup: Setup): WortSources {
  const order = ['collected', 'fermenting', 'chilled', 'racked'];
  return {
    ferments: ferments
      .filter(({ state }) => state === 'collected' || state === 'fermenting')
      .toSorted((a, b) => order.indexOf(a.state) - order.indexOf(b.state)),
    plannedBrews: setup.plannedBrews,
    strains: setup.strains,
    siteOf: (brew) => keyOfNamed(siteOfBrew(brew, setup), setup.homeId),
  };
}

export function wortOptions({ ferments, plannedBrews, siteOf }: WortSources): Option[] {
  return [
    ...ferments.map(({ id, record, siteId, vessel, state }) => ({
      value: id,
      label: `${record.gyle} ${record.beer}, ${atItsSite(vessel, siteId)}${state === 'collected' ? '' : ' (pitched already)'}`,
    })),
    ...plannedBrews.map((brew) => ({
      value: brew.id,
      label: `${day(brew.onDay)}: ${atItsSite(brew.beer, siteOf(brew))} (planned)`,
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
    const { strain, siteId } = ferment;
    return { volumeL, gravitySg: originalGravitySg, strain, ferment, siteId };
  }
  const brew = sources.plannedBrews.find(({ id }) => id === typed.wort);
  const { volumeL, gravitySg } =
    brew === undefined ? typed : { volumeL: brew.volumeL, gravitySg: brew.originalGravitySg };
  const strain = strainOf(brew?.strainId ?? typed.strainId);
  const siteId = brew && sources.siteOf(brew);
  return { volumeL, gravitySg, strain, ferment: undefined, siteId };
}

/** The lots at the site of a wort: yeast of another is sent there first. */
export const lotsFor = (
  { siteId }: Pick<Wort, 'siteId'>,
  lots: readonly LotStanding[],
): readonly LotStanding[] =>
  siteId === undefined ? lots : lots.filter((lot) => lot.siteId === siteId);

export function wortInWords({ volumeL, gravitySg, strain }: Wort): string {
  const parts = [
    volumeL === undefined ? undefined : volume(volumeL),
    gravitySg === undefined ? undefined : `OG ${gravity(gravitySg)}`,
    strain?.name,
  ];
  return parts.filter((part) => part !== undefined).join(' · ');
}
