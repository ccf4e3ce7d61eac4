import type { Trace } from '#shared/lineage/trace.ts';
import { Figure } from '../frame/Figure.tsx';

/** What matters of a family, before it is drawn. */
export function TraceSummary({ counts }: Pick<Trace, 'counts'>) {
  const { upstream, sources, ferments, lotsInStore, batches, held } = counts;
  return (
    <div class="figures figures-four">
      <Figure
        label="Upstream"
        value={upstream === 0 ? 'none' : String(upstream)}
        range={upstream === 0 ? 'it is the source' : `from ${sources.join(', ')}`}
      />
      <Figure label="Ferments downstream" value={String(ferments)} />
      <Figure
        label="Lots in store"
        value={String(lotsInStore)}
        range={held === 0 ? 'none on hold' : `${held} on hold`}
      />
      <Figure label="Cask batches" value={String(batches)} />
    </div>
  );
}
