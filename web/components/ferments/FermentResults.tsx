import type { AttenuationReached } from '#shared/ferments/attenuationReached.ts';
import type { FermentCurve, FittedFerment } from '#shared/science/fermentCurve.ts';
import type { FermentResult } from '#shared/views/ferments.ts';
import { fixed, gravity, percent } from '../../format.ts';
import { Figure } from '../frame/Figure.tsx';
import { type Column, RuledTable } from '../frame/RuledTable.tsx';
import { Why } from '../frame/Why.tsx';
import { type FigureWords, figureWords } from './fermentFigureWords.ts';

/** What came of a finished ferment: times and rate, attenuation, strength by each of two rules. */
export function FermentResults({ result }: { result: FermentResult }) {
  const { curve, reached, presentGravityFrom } = result;
  return (
    <section aria-label="What came of it">
      <h2>What came of it</h2>
      <p class="prose">{curveWords(curve)}</p>
      <div class="figures">
        {figureWords.map((words) => (
          <CurveFigure key={words.key} words={words} curve={curve} />
        ))}
        {reached !== null && <Attenuation reached={reached} from={presentGravityFrom} />}
      </div>
      {curve.kind === 'fitted' && <Parameters curve={curve} />}
    </section>
  );
}

function curveWords(curve: FermentCurve): string {
  if (curve.kind === 'crossings')
    return `No curve: ${curve.why}. Times are read off between readings, and have no standard error.`;
  return `A ${curve.form} curve was fitted and settled; the readings stray ${fixed(curve.residualSdDegrees, 1)} degrees from it. The figures behind the ± are standard errors.`;
}

function CurveFigure({ words, curve }: { words: FigureWords; curve: FermentCurve }) {
  const estimate = curve.derived[words.key];
  if (estimate === undefined) return null;
  const { value, standardError } = estimate;
  return (
    <Figure
      label={words.label}
      value={words.show(value)}
      range={standardError === undefined ? undefined : `± ${words.error(standardError)}`}
      size="plain"
    >
      <Why>
        <dl>
          <dt>How</dt>
          <dd>{words.formula}</dd>
          <dt>From</dt>
          <dd>{inputsOf(curve)}</dd>
          <dt>Source</dt>
          <dd>{words.source}</dd>
        </dl>
      </Why>
    </Figure>
  );
}

function inputsOf(curve: FermentCurve): string {
  if (curve.kind === 'crossings') return 'The readings on either side, on a straight line.';
  const { initialGravitySg, endGravitySg, midpointHours, ratePerHour } = curve.parameters;
  return `Pi ${gravity(initialGravitySg.value)}, Pe ${gravity(endGravitySg.value)}, M ${fixed(midpointHours.value, 1)} h, b ${fixed(ratePerHour.value, 3)} per hour.`;
}

function Attenuation({ reached, from }: { reached: AttenuationReached; from: string }) {
  const { originalGravitySg, presentGravitySg, abvHmrcPercent } = reached;
  const gravities = `Original ${gravity(originalGravitySg)}, present ${gravity(presentGravitySg)} from ${from}.`;
  const figures = [
    {
      label: 'Apparent attenuation',
      value: percent(reached.apparentPercent, 1),
      how: '(OG − PG) / OG, in degrees.',
      source: 'Trade usage.',
    },
    {
      label: 'Real attenuation',
      value: percent(reached.realPercent, 1),
      how: '(OE − RE) / OE in °P, with RE = 0.1808 OE + 0.8192 AE.',
      source: 'Balling, constants from memory; Cutaia et al. 2009.',
    },
    {
      label: 'ABV, Balling',
      value: percent(reached.abvBallingPercent, 2),
      how: 'Alcohol by weight (OE − RE) / (2.0665 − 0.010665 OE), times PG / 0.7907. Good to about 0.1 %.',
      source: 'Balling, constants from memory; Cutaia et al. 2009. Not for duty.',
    },
    ...(abvHmrcPercent === null
      ? []
      : [
          {
            label: 'ABV, HMRC factors',
            value: percent(abvHmrcPercent, 2),
            how: dutyWords(reached, abvHmrcPercent),
            source:
              'HMRC Notice 226, 30.2 and 30.3, at second hand. A guide: actual strength prevails, and for cask beer the present gravity is taken after secondary fermentation.',
          },
        ]),
  ];
  return (
    <>
      {figures.map(({ label, value, how, source }) => (
        <Figure key={label} label={label} value={value} size="plain">
          <Why>
            <dl>
              <dt>How</dt>
              <dd>{how}</dd>
              <dt>From</dt>
              <dd>{gravities}</dd>
              <dt>Source</dt>
              <dd>{source}</dd>
            </dl>
          </Why>
        </Figure>
      ))}
    </>
  );
}

/** The fall, and the factor that belongs to it. */
function dutyWords(
  { originalGravitySg, presentGravitySg }: AttenuationReached,
  abvPercent: number,
): string {
  const fall = Math.max(0.1, (originalGravitySg - presentGravitySg) * 1000);
  return `(OG − PG) × the factor for that fall: ${fixed(fall, 1)} × ${fixed(abvPercent / fall, 3)}.`;
}

type Parameter = { name: string; value: string; error: string };

const columns: Column<Parameter>[] = [
  { head: 'Parameter', names: true, cell: ({ name }) => name },
  { head: 'Fitted', numeric: true, cell: ({ value }) => value },
  { head: 'Standard error', numeric: true, cell: ({ error }) => error },
];

function Parameters({ curve }: { curve: FittedFerment }) {
  return (
    <details class="more">
      <summary>The fitted curve</summary>
      <p class="prose">
        P(t) = Pe + (Pi − Pe) / (1 + exp(b (t − M)))
        {curve.form === 'asymmetric' && ', its lower half drawn out by s'}, by least squares in
        degrees of gravity. Source: ASBC Yeast-14; Speers et al. 2003; Reid et al. 2021.
      </p>
      <RuledTable
        caption="Parameters of the fitted curve"
        quiet
        columns={columns}
        rows={parametersOf(curve)}
        keyOf={({ name }) => name}
      />
    </details>
  );
}

function parametersOf({ parameters, form }: FittedFerment): Parameter[] {
  const { initialGravitySg, endGravitySg, midpointHours, ratePerHour, asymmetry } = parameters;
  const row = (
    name: string,
    { value, standardError }: FittedFerment['parameters']['asymmetry'],
    show: (value: number) => string,
    errorOf = show,
  ) => ({
    name,
    value: show(value),
    error: standardError === undefined ? '' : errorOf(standardError),
  });
  const degrees = (error: number) => `${fixed(error * 1000, 2)} degrees`;
  return [
    row('Pi, start', initialGravitySg, gravity, degrees),
    row('Pe, end', endGravitySg, gravity, degrees),
    row('M, middle', midpointHours, (value) => `${fixed(value, 2)} h`),
    row('b, rate', ratePerHour, (value) => `${fixed(value, 4)} per h`),
    ...(form === 'asymmetric' ? [row('s, asymmetry', asymmetry, (v) => fixed(v, 2))] : []),
  ];
}
