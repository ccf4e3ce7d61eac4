import type { FermentStanding } from '#shared/views/ferments.ts';
import type { Saved } from '../../apiClient.ts';
import { fetchLot } from '../../apiClient.ts';
import { amount, generation } from '../../format.ts';
import { Caution } from '../frame/Caution.tsx';
import { useLoad } from '../frame/useLoad.ts';

type CroppedProps = { saved: Saved; ferment: FermentStanding; onAgain: () => void };

/** What to write on the bin, and what comes next. */
export function Cropped({ saved, ferment, onAgain }: CroppedProps) {
  const lot = useLoad((signal) => fetchLot(saved.recordId, signal), [saved.recordId]);
  return (
    <section aria-label="The new lot">
      <p>Write on the bin:</p>
      <p class="bin-code">{saved.code ?? lot.data?.code}</p>
      {saved.waits && saved.code === undefined && (
        <p class="warning">
          The end of the code follows when the crop is sent. Until then write gyle and cut.
        </p>
      )}
      {lot.data !== null && (
        <p class="bin-facts">
          {`${amount(lot.data.left, lot.data.unit)} of ${lot.data.strain.name}, ${generation(lot.data.generation)}, from ${ferment.record.gyle} ${ferment.record.beer}`}
        </p>
      )}
      {saved.warnings.map((warning) => (
        <p key={warning} class="warning">
          {warning}
        </p>
      ))}
      <p class="actions">
        <a class="button" href={`/bench?lot=${saved.recordId}`}>
          Count it
        </a>
        <a class="button quiet" href={`/label?lot=${saved.recordId}`}>
          Print a label
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
