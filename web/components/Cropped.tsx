import type { FermentStanding } from '#shared/views.ts';
import type { Saved } from '../apiClient.ts';
import { fetchLot } from '../apiClient.ts';
import { generation } from '../format.ts';
import { Caution } from './Caution.tsx';
import { Loaded } from './Loaded.tsx';
import { useLoad } from './useLoad.ts';

type CroppedProps = { saved: Saved; ferment: FermentStanding; onAgain: () => void };

/** What to write on the bin, and what comes next. */
export function Cropped({ saved, ferment, onAgain }: CroppedProps) {
  const lot = useLoad((signal) => fetchLot(saved.recordId, signal), [saved.recordId]);
  return (
    <section aria-label="The new lot">
      <p>Write on the bin:</p>
      <p class="bin-code">{saved.code ?? lot.data?.code}</p>
      <Loaded of={lot}>
        {(known) => (
          <p class="bin-facts">
            {`${known.strain.name}, ${generation(known.generation)}, from ${ferment.record.gyle} ${ferment.record.beer}`}
          </p>
        )}
      </Loaded>
      {saved.warnings.map((warning) => (
        <p key={warning} class="warning">
          {warning}
        </p>
      ))}
      <p class="actions">
        <a class="button" href={`/bench?lot=${saved.recordId}`}>
          Count it
        </a>
        <a class="button quiet" href={`/yeast/${saved.recordId}`}>
          Log its temperature
        </a>
        <button type="button" class="button quiet" onClick={onAgain}>
          Another crop of {ferment.record.gyle}
        </button>
      </p>
      <Caution title="Never seal it tight">
        <p>
          Yeast goes on making gas in the cold. Leave the lid loose or use a relief valve, and vent
          it every day; a tight bin or a bottle can burst.
        </p>
      </Caution>
    </section>
  );
}
