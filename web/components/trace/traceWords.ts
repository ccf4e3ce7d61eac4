import type { TraceNode } from '#shared/lineage/traceNodes.ts';
import { amount, generation } from '../../format.ts';
import { siteName } from '../../sites.ts';
import type { Tone } from '../frame/Status.tsx';

type Status = Exclude<TraceNode['status'], 'plain'>;

export const statusWords: Record<Status, { word: string; tone: Tone }> = {
  held: { word: 'on hold', tone: 'stop' },
  grew: { word: 'something grew', tone: 'spent' },
  attention: { word: 'look at it', tone: 'watch' },
};

export const kindWords = { lot: 'Lot', ferment: 'Gyle', casks: 'Casks' } as const;

/** A record by its kind and name: "gyle 412", "lot TN-412A". */
export const nameOf = ({ kind, label }: Pick<TraceNode, 'kind' | 'label'>) =>
  kind === 'ferment' ? `gyle ${label}` : label;

/** What a record is, and at which site where there are several. */
export const detailOf = ({ detail, siteId }: Pick<TraceNode, 'detail' | 'siteId'>) => {
  const site = siteName(siteId);
  return site === undefined ? detail : `${detail}, at ${site}`;
};

export function stateOf({ state, generation: passes, left }: TraceNode): string {
  const known = passes === null ? [] : [generation(passes)];
  const kept = left === null ? state : `${amount(left.value, left.unit)} ${state}`;
  return [...known, kept].join(', ');
}

/** The page on which a record of the trace stands. */
export function pageOf(
  { kind, id, through }: TraceNode,
  fermentOf: (id: string) => string,
): string {
  if (kind === 'lot') return `/yeast/${id}`;
  return kind === 'ferment' ? `/ferments/${id}` : `/ferments/${fermentOf(id) || through || ''}`;
}

export const toneOf = ({ status }: TraceNode): Tone =>
  status === 'plain' ? 'plain' : statusWords[status].tone;
