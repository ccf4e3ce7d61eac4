import { isRise } from '#shared/science/fermentReadings.ts';
import type { FermentSheet, FermentStanding, RunningCourse } from '#shared/views/ferments.ts';
import type { CurveReading } from '../../charts/gravityCurve.ts';
import { duration, fixed, gravity, percent } from '../../format.ts';
import { Figure } from '../frame/Figure.tsx';
import { Why } from '../frame/Why.tsx';
import { FermentCurveTable } from './FermentCurveTable.tsx';
import { basisWords, findingWords, rackingWords } from './fermentWords.ts';
import { GravityCurve } from './GravityCurve.tsx';
import { ReadingNotes } from './ReadingNotes.tsx';

export type ShownFerment = FermentStanding & Partial<FermentSheet>;

/** How a ferment went, or goes: the figures of the moment, the chart, and the table behind it. */
export function FermentCourse({ ferment }: { ferment: ShownFerment }) {
  const { band, gravities = [], notes = [] } = ferment;
  return (
    <>
      <div class="course">
        <MomentFigures ferment={ferment} />
        {band && (
          <GravityCurve
            readings={chartReadings(ferment)}
            band={band.points}
            finding={`${findingWords(ferment)} ${basisWords(band, ferment)}`}
          />
        )}
      </div>
      <ReadingNotes notes={notes} ferment={ferment} />
      {band && <FermentCurveTable points={band.points} gravities={gravities} />}
    </>
  );
}

// Just pitched, a band is narrower than a saccharometer reads: 1043.5 of 1043.5 is not above it.
function chartReadings({ record, gravities = [] }: ShownFerment): CurveReading[] {
  const collected = { hours: 0, gravitySg: record.originalGravitySg, isBeyond: false };
  const read = gravities.flatMap(({ hours, gravitySg, expected }) =>
    expected === null ? [] : [{ hours, gravitySg, isBeyond: isRise(expected.high, gravitySg) }],
  );
  return [collected, ...read.toSorted((a, b) => a.hours - b.hours)];
}

function MomentFigures({ ferment }: { ferment: ShownFerment }) {
  const { latestGravitySg, apparentAttenuationPercent, hoursSincePitch, running, state } = ferment;
  return (
    <div class="course-figures">
      {latestGravitySg !== null && (
        <Figure
          label="Gravity last read"
          value={gravity(latestGravitySg)}
          range={`from ${gravity(ferment.record.originalGravitySg)}`}
          size="large"
        />
      )}
      {running !== null && running.status !== 'done' && (
        <ToRacking running={running} latestGravitySg={latestGravitySg} />
      )}
      {state === 'fermenting' && apparentAttenuationPercent !== null && (
        <Figure
          label="Apparent attenuation"
          value={percent(apparentAttenuationPercent)}
          size="plain"
        />
      )}
      {state !== 'racked' && hoursSincePitch !== null && (
        <Figure
          label="Since pitching"
          value={hoursSincePitch < 1 / 60 ? 'just pitched' : duration(hoursSincePitch)}
          size="plain"
        />
      )}
    </div>
  );
}

type ToRackingProps = Pick<FermentStanding, 'latestGravitySg'> & { running: RunningCourse };

function ToRacking({ running, latestGravitySg }: ToRackingProps) {
  const { value, range } = rackingWords({ running, latestGravitySg });
  const { rackingGravitySg, expectation, falseAlarmRate } = running;
  return (
    <Figure label={`To ${gravity(rackingGravitySg)}`} value={value} range={range} size="large">
      <Why>
        <dl>
          <dt>Racking gravity</dt>
          <dd>
            {`${gravity(rackingGravitySg)}, 3 degrees above the end usual for it, ${gravity(expectation.endGravitySg.mid)}: what is left to ferment in the cask (Boulton & Quain 2001, 6.8).`}
          </dd>
          <dt>Range</dt>
          <dd>
            Four chances in five. A thousand ferments that could be, sound, held up, slow or about
            to stop, each weighed by how well it fits the readings.
          </dd>
          <dt>Usual half time</dt>
          <dd>
            {`${fixed(expectation.halfTimeHours.mid, 1)} h (${fixed(expectation.halfTimeHours.low, 1)} to ${fixed(expectation.halfTimeHours.high, 1)} h), original gravity, set temperature, pitching rate and beer allowed for.`}
          </dd>
          <dt>When it counts as slow</dt>
          <dd>
            {`When a reading lies above a line that ${percent(100 * falseAlarmRate)} of sound ferments ever cross, however often they are read (after Lan & DeMets 1983).`}
          </dd>
        </dl>
      </Why>
    </Figure>
  );
}
