import type { FreshNeed, ReplacementChoice } from '#shared/plan/freshView.ts';
import type { ReplacementInput } from '#shared/science/replacement.ts';
import { figure, fixed, generation, percent } from '../../format.ts';
import { Figure } from '../frame/Figure.tsx';
import { RuledTable } from '../frame/RuledTable.tsx';
import { Why } from '../frame/Why.tsx';

const inputs: Record<ReplacementInput, string> = {
  freshCulture: 'Cost of a fresh culture',
  handlingPerBrew: 'Handling per brew',
  extraPerGeneration: 'Extra per generation',
  loss: 'Cost of a lost brew',
  failureChance: 'Chance of a lost brew',
};

type Props = { cost: ReplacementChoice; line: FreshNeed['line'] };

/** What renewing the culture costs now, later, or at the limit, in the brewery's own money. */
export function PlanCosts({ cost, line }: Props) {
  const { best, policies, isAtEnd, sensitivity } = cost;
  const bests = sensitivity.map((each) => each.best.brews);
  const [low, high] = [Math.min(...bests), Math.max(...bests)];
  return (
    <>
      <Figure
        label="Cheapest: renew after"
        value={`${best.brews} generations`}
        range={
          low === high
            ? 'whichever cost is halved or half as much again'
            : `${low} to ${high}, with each cost halved or half as much again`
        }
        size="plain"
      >
        <Why title={`Why ${best.brews}`} isLong>
          <p>
            Every number of brews in a row from 1 to {policies.length} was tried, {policies.length}{' '}
            being what the house limit allows: expected cost of a run ÷ expected brews in it, a lost
            brew ending the run (renewal-reward theorem, Ross 1996). At {best.brews} it is{' '}
            {money(best.costPerBrew)} a brew, {ownMoney} as you entered it.
            {isAtEnd && ' A longer run might be cheaper still: the house limit forbids it.'} Wear by
            generation is weakly proven; the chance of loss decides.
          </p>
          <Tables cost={cost} />
        </Why>
      </Figure>
      {line !== null && <Choice cost={cost} line={line} />}
    </>
  );
}

function Choice({ cost, line }: { cost: ReplacementChoice; line: NonNullable<Props['line']> }) {
  const { keepFor, bestMore } = cost;
  const now = keepFor[0];
  const limit = keepFor.at(-1);
  const later = keepFor.find(({ brews }) => brews === bestMore);
  if (now === undefined || limit === undefined || later === undefined) return null;
  if (limit.brews === 0) return <p class="prose">Line {line.code} is at the limit of the house.</p>;
  return (
    <p class="prose">
      Line {line.code} stands at {generation(line.generation)}. Over the {limit.brews} brews it
      could still make, {ownMoney}: renewing now {money(now.cost)}, at the limit {money(limit.cost)}
      {bestMore === 0 || bestMore === limit.brews
        ? ''
        : `, after ${bestMore} more ${money(later.cost)}`}
      .{' '}
      {bestMore === 0
        ? 'Renewing now is cheapest'
        : bestMore === limit.brews
          ? 'Keeping it to the limit is cheapest'
          : `Keeping it for ${bestMore} more is cheapest`}
      , by {money(dearest(keepFor) - later.cost)} at most.
    </p>
  );
}

const dearest = (options: readonly { cost: number }[]) =>
  Math.max(...options.map(({ cost }) => cost));

function Tables({ cost }: { cost: ReplacementChoice }) {
  return (
    <>
      <RuledTable
        caption="If a figure were different"
        rows={cost.sensitivity}
        keyOf={({ input, factor }) => `${input} ${factor}`}
        columns={[
          { head: 'Figure', names: true, cell: ({ input }) => inputs[input] },
          { head: 'Times', numeric: true, cell: ({ factor }) => fixed(factor, 1) },
          { head: 'Renew after', numeric: true, cell: ({ best }) => best.brews },
          {
            head: `Cost of keeping to ${cost.best.brews}, a brew, ${ownMoney}`,
            numeric: true,
            cell: ({ costOfKeeping }) => money(costOfKeeping),
          },
        ]}
      />
      <RuledTable
        caption={`Chance of a lost brew: ${cost.chancesFrom}`}
        rows={cost.chances}
        keyOf={({ generation: of }) => String(of)}
        columns={[
          { head: 'Generation', names: true, cell: ({ generation: of }) => generation(of) },
          {
            head: 'Chance',
            numeric: true,
            cell: ({ chance }) =>
              chance.low === chance.high
                ? percent(100 * chance.value, 1)
                : `${percent(100 * chance.value, 1)} (${fixed(100 * chance.low, 1)} to ${fixed(100 * chance.high, 1)})`,
          },
          { head: 'Brews', numeric: true, cell: ({ brews }) => brews },
          { head: 'Of them lost', numeric: true, cell: ({ lost }) => lost },
        ]}
      />
      {cost.chancesFrom !== 'your own figures' && (
        <p>
          A brew counts as lost when a plate found something in the yeast pitched into it or cropped
          from it. Three generations are taken together and drawn towards the mean of all (beta
          distributions; half a loss in 50 brews is believed before any is known: a judgement).
        </p>
      )}
      <RuledTable
        caption="Cost of a brew, by brews from one culture"
        rows={cost.policies}
        keyOf={({ brews }) => String(brews)}
        columns={[
          { head: 'Renew after', names: true, cell: ({ brews }) => brews },
          {
            head: `Cost a brew, ${ownMoney}`,
            numeric: true,
            cell: ({ costPerBrew }) => money(costPerBrew),
          },
        ]}
      />
    </>
  );
}

const ownMoney = 'in your own money';

/** In whatever money the costs were entered in. */
const money = (value: number) => figure(value, value < 100 ? 3 : 4);
