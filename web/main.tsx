import './styles/index.css';
import { effect } from '@preact/signals';
import { render } from 'preact';
import lazy, { ErrorBoundary } from 'preact-iso/lazy';
import { LocationProvider, Route, Router } from 'preact-iso/router';
import { dropOldDrafts } from './components/form/drafts.ts';
import { Frame } from './components/frame/Frame.tsx';
import { NotFound } from './components/frame/NotFound.tsx';
import { SignedInOnly } from './components/frame/SignedInOnly.tsx';
import { keepForLater } from './outbox/keepForLater.ts';
import { keepPages, reloadWhenOutdated } from './outbox/newVersion.ts';
import { startSending } from './outbox/sendingTimes.ts';
import { Today } from './pages/today.tsx';
import { refreshSession } from './session.ts';
import { refreshSetup } from './settings.ts';
import { signedIn } from './signedIn.ts';
import { unfoldForPrint } from './unfoldForPrint.ts';

const Yeast = lazy(() => import('./pages/yeast.tsx').then((page) => page.Yeast));
const FreshCulture = lazy(() =>
  import('./pages/freshCulture.tsx').then((page) => page.FreshCulture),
);
const Lot = lazy(() => import('./pages/lot.tsx').then((page) => page.Lot));
const Pitch = lazy(() => import('./pages/pitch.tsx').then((page) => page.Pitch));
const PitchSheet = lazy(() => import('./pages/pitchSheet.tsx').then((page) => page.RecordedSheet));
const Blend = lazy(() => import('./pages/blend.tsx').then((page) => page.Blend));
const People = lazy(() => import('./pages/people.tsx').then((page) => page.People));
const SetupPage = lazy(() => import('./pages/setup.tsx').then((page) => page.SetupPage));
const Crop = lazy(() => import('./pages/crop.tsx').then((page) => page.Crop));
const Bench = lazy(() => import('./pages/bench.tsx').then((page) => page.Bench));
const Ferments = lazy(() => import('./pages/ferments.tsx').then((page) => page.Ferments));
const NewFerment = lazy(() => import('./pages/fermentNew.tsx').then((page) => page.NewFerment));
const Ferment = lazy(() => import('./pages/ferment.tsx').then((page) => page.Ferment));
const Records = lazy(() => import('./pages/records.tsx').then((page) => page.Records));
const Plan = lazy(() => import('./pages/plan.tsx').then((page) => page.Plan));
const Lines = lazy(() => import('./pages/lines.tsx').then((page) => page.Lines));
const History = lazy(() => import('./pages/history.tsx').then((page) => page.History));
const Trace = lazy(() => import('./pages/trace.tsx').then((page) => page.Trace));
const Line = lazy(() => import('./pages/line.tsx').then((page) => page.Line));

const Label = lazy(() => import('./pages/label.tsx').then((page) => page.Label));
const Outbox = lazy(() => import('./pages/outbox.tsx').then((page) => page.Outbox));

function App() {
  return (
    <LocationProvider>
      <Frame>
        <SignedInOnly>
          <ErrorBoundary>
            <Router>
              <Route path="/" component={Today} />
              <Route path="/yeast" component={Yeast} />
              <Route path="/yeast/new" component={FreshCulture} />
              <Route path="/yeast/blend" component={Blend} />
              <Route path="/yeast/:id" component={Lot} />
              <Route path="/pitch" component={Pitch} />
              <Route path="/pitch/sheet" component={PitchSheet} />
              <Route path="/crop" component={Crop} />
              <Route path="/bench" component={Bench} />
              <Route path="/ferments" component={Ferments} />
              <Route path="/ferments/new" component={NewFerment} />
              <Route path="/ferments/:id" component={Ferment} />
              <Route path="/plan" component={Plan} />
              <Route path="/lines" component={Lines} />
              <Route path="/lines/:id" component={Line} />
              <Route path="/trace" component={Trace} />
              <Route path="/records/:id" component={History} />
              <Route path="/setup" component={SetupPage} />
              <Route path="/setup/records" component={Records} />
              <Route path="/label" component={Label} />
              <Route path="/outbox" component={Outbox} />
              <Route path="/people" component={People} />
              <Route default component={NotFound} />
            </Router>
          </ErrorBoundary>
        </SignedInOnly>
      </Frame>
    </LocationProvider>
  );
}

reloadWhenOutdated();
unfoldForPrint();
startSending();
// The pages say themselves when the server cannot be reached.
refreshSession().catch(() => undefined);
effect(() => {
  // Again for another person, and for another site: the fetch asks which.
  if (signedIn.value) refreshSetup().catch(() => undefined);
});
const root = document.getElementById('app');
if (root !== null) render(<App />, root);
// What is not needed to begin with must not slow the beginning.
addEventListener('load', () => setTimeout(getReadyForOffline, 1_500));

function getReadyForOffline() {
  void keepPages().catch(() => undefined);
  keepForLater();
  dropOldDrafts();
}
