import { FV_COUNT_WITHIN_HOURS } from '#shared/lots/strainHistory.ts';
import type { FermentStanding } from '#shared/views/ferments.ts';
import { ago } from '../../format.ts';
import { CountForm, fvInHand } from './CountForm.tsx';
import { isCountable } from './isCountable.ts';

type Props = { ferment: FermentStanding; onSaved: (warnings: readonly string[]) => void };

/** The cells in a wort just pitched; what the bench promised is not shown, not to lead the eye. */
export function FvCount({ ferment, onSaved }: Props) {
  const { id, vessel, record, hoursSincePitch } = ferment;
  return (
    <>
      {hoursSincePitch === null && <p class="warning">This gyle is not pitched yet.</p>}
      {hoursSincePitch !== null && !isCountable(ferment) && (
        <p class="warning">
          Pitched {ago(hoursSincePitch)}: buds are cells by now. The count is kept as a reading, but
          says nothing any more of how true the bench was.
        </p>
      )}
      <p class="prose">
        Rouse or mix the wort, sample it within {FV_COUNT_WITHIN_HOURS} hours of pitching (common
        practice, no source), and count all cells, dead and alive. What the bench promised is shown
        on the pitch page, once this is saved.
      </p>
      <CountForm
        lot={fvInHand(id, `${vessel}, gyle ${record.gyle}`)}
        last={undefined}
        ofFerment
        onSaved={onSaved}
      />
    </>
  );
}
