import type { FermentStanding } from '#shared/views/ferments.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { Setup } from '#shared/views/setup.ts';
import type { Today as TodayView } from '#shared/views/today.ts';
import { fetchCurrentFerments, fetchLotsInStore, fetchToday } from '../apiClient.ts';
import { Doors } from '../components/frame/Doors.tsx';
import { Loaded } from '../components/frame/Loaded.tsx';
import { Page } from '../components/frame/Page.tsx';
import { TodayList } from '../components/frame/TodayList.tsx';
import { useLoad } from '../components/frame/useLoad.ts';
import { NotReckonedYet } from '../components/outbox/NotSentYet.tsx';
import { FirstSteps } from '../components/setup/FirstSteps.tsx';
import { isBeginning } from '../components/setup/firstStepsOf.ts';
import { day, localDay } from '../format.ts';
import { refreshSetup, setup } from '../settings.ts';
import '../styles/today.css';

type Everything = {
  today: TodayView;
  setup: Setup;
  lots: LotStanding[];
  ferments: FermentStanding[];
};

async function fetchEverything(signal: AbortSignal): Promise<Everything> {
  const [today, setup, lots, ferments] = await Promise.all([
    fetchToday(signal),
    refreshSetup(signal),
    fetchLotsInStore(signal),
    fetchCurrentFerments(signal),
  ]);
  return { today, setup, lots, ferments };
}

export function Today() {
  const load = useLoad(fetchEverything);
  const name = setup.value?.brewery?.name;
  const begins = load.data === null ? setup.value?.brewery === null : isBeginning(load.data);
  return (
    <Page title="Today" lead={[day(localDay(new Date())), name].filter(Boolean).join(' · ')}>
      {!begins && <Doors />}
      <Loaded of={load}>
        {(known) => (
          <>
            {begins && (
              <>
                <p class="prose">
                  Barmbook follows yeast from a crop to the next pitch: how much to pitch, whether a
                  lot is fit, and when a line is tired.
                </p>
                <FirstSteps {...known} />
              </>
            )}
            <NotReckonedYet what="This list" />
            {(!begins || known.today.actions.length > 0) && (
              <TodayList actions={known.today.actions} />
            )}
          </>
        )}
      </Loaded>
    </Page>
  );
}
