import { useEffect } from 'preact/hooks';
import type { Plan as PlanView } from '#shared/plan/planView.ts';
import type { Setup } from '#shared/views/setup.ts';
import { fetchPlan } from '../apiClient.ts';
import { Loaded } from '../components/frame/Loaded.tsx';
import { Page } from '../components/frame/Page.tsx';
import { useLoad } from '../components/frame/useLoad.ts';
import { NotReckonedYet } from '../components/outbox/NotSentYet.tsx';
import { PlanBrews } from '../components/plan/PlanBrews.tsx';
import { PlanFresh } from '../components/plan/PlanFresh.tsx';
import { PlannedBrews } from '../components/plan/PlannedBrews.tsx';
import { PlanShortages } from '../components/plan/PlanShortages.tsx';
import { PlanSources } from '../components/plan/PlanSources.tsx';
import { refreshSetup } from '../settings.ts';
import { chosenSite } from '../siteChoice.ts';
import { isOfAll, sites } from '../sites.ts';
import '../styles/sheets.css';
import '../styles/plan.css';

async function fetchEverything(signal: AbortSignal): Promise<{ plan: PlanView; setup: Setup }> {
  const [plan, setup] = await Promise.all([fetchPlan(signal), refreshSetup(signal)]);
  return { plan, setup };
}

export function Plan() {
  return (
    <Page
      title="Plan"
      lead="Will there be yeast: which feeds which brew, and when to bring in fresh."
    >
      {isOfAll.value ? <ChooseSite /> : <PlanOfSite />}
    </Page>
  );
}

/** Yeast of one site does not feed another unless it is sent, so neither does a plan. */
function ChooseSite() {
  return (
    <>
      <p>A plan is of one site: its yeast feeds its own brews. Of which?</p>
      <p class="actions">
        {sites.value.map(({ id, name }) => (
          <button
            key={id}
            type="button"
            class="button"
            onClick={() => {
              chosenSite.value = id;
            }}
          >
            {name}
          </button>
        ))}
      </p>
    </>
  );
}

function PlanOfSite() {
  const load = useLoad(fetchEverything);
  const isLoaded = load.data !== null;
  // The place that a link from Today names is there only once the plan is.
  useEffect(() => {
    if (isLoaded && location.hash !== '')
      document.getElementById(location.hash.slice(1))?.scrollIntoView();
  }, [isLoaded]);
  return (
    <Loaded of={load}>
      {({ plan, setup }) => (
        <>
          <NotReckonedYet what="This plan" />
          <PlanShortages plan={plan} />
          <PlanBrews plan={plan} onChanged={load.reload} />
          <PlannedBrews setup={setup} aheadUntil={plan.toDay} onChanged={load.reload} />
          <PlanSources
            plan={plan}
            names={new Map(setup.strains.map(({ id, name }) => [id, name]))}
          />
          <PlanFresh plan={plan} onChanged={load.reload} />
          <p class="field-hint">
            Brew days, crops, fresh culture and plates also come as a calendar feed: its address is
            under <a href="/people">your account</a>.
          </p>
        </>
      )}
    </Loaded>
  );
}
