import type { ComponentChildren } from 'preact';
import { useRoute } from 'preact-iso/router';
import type { LotPage } from '../apiClient.ts';
import { fetchLot } from '../apiClient.ts';
import { Figure } from '../components/Figure.tsx';
import { Loaded } from '../components/Loaded.tsx';
import {
  DiscardForm,
  HoldForm,
  PlateForm,
  PlateResultForm,
  StoreTemperatureForm,
  TreatmentForm,
} from '../components/LotForms.tsx';
import { Page } from '../components/Page.tsx';
import { ReasonList } from '../components/ReasonList.tsx';
import { RuledTable } from '../components/RuledTable.tsx';
import { Status } from '../components/Status.tsx';
import { useLoad } from '../components/useLoad.ts';
import { Why } from '../components/Why.tsx';
import {
  amount,
  cellsPer,
  duration,
  generation,
  moment,
  percent,
  percentRange,
} from '../format.ts';
import '../styles/yeast.css';
import '../styles/today.css';

export function Lot() {
  const { id = '' } = useRoute().params;
  const lot = useLoad((signal) => fetchLot(id, signal), [id]);
  return (
    <Page title={lot.data?.code ?? 'Lot'} back={{ href: '/yeast', label: 'Yeast in store' }}>
      <Loaded of={lot}>{(data) => <LotSheet lot={data} onDone={lot.reload} />}</Loaded>
    </Page>
  );
}

type Props = { lot: LotPage; onDone: () => void };

function LotSheet({ lot, onDone }: Props) {
  return (
    <>
      <p class="lead">
        <Status verdict={lot.verdict.verdict} /> {lot.strain.name}, {generation(lot.generation)},
        pitched {lot.timesPitched} times before, {duration(lot.ageHours)} old
        {lot.fromFerment !== null && (
          <>
            , from{' '}
            <a href={`/ferments/${lot.fromFerment.id}`}>
              gyle {lot.fromFerment.gyle} {lot.fromFerment.beer}
            </a>
          </>
        )}
        .
      </p>
      <Figures lot={lot} />
      <p class="actions">
        <a class="button" href={`/bench?lot=${lot.id}`}>
          Count and stain
        </a>
        <a class="button quiet" href={`/pitch?lot=${lot.id}`}>
          Pitch it
        </a>
        <a class="button quiet" href={`/lines/${lot.lineId}`}>
          Its line
        </a>
      </p>
      <h2>Why {lot.verdict.verdict}</h2>
      <ReasonList verdict={lot.verdict} />
      <Actions key={lot.history.length} lot={lot} onDone={onDone} />
      <h2>History</h2>
      <History lot={lot} />
    </>
  );
}

function Figures({ lot }: { lot: LotPage }) {
  return (
    <div class="figures">
      <Figure
        label="Left"
        value={amount(lot.left, lot.unit)}
        range={`of ${amount(lot.amount, lot.unit)}`}
      />
      {lot.count !== null && (
        <Figure
          label="Cells"
          value={cellsPer(lot.count.cellsPer.value, lot.count.basis)}
          range={`${cellsPer(lot.count.cellsPer.low, lot.count.basis)} to ${cellsPer(lot.count.cellsPer.high, lot.count.basis)}`}
        >
          <Why>
            <p>
              {lot.count.cellsCounted} cells counted {moment(lot.count.at)}. The range is of 95 %:
              chance (exact Poisson), chamber filling and pipetting (Berkson, Magath and Hurn 1939,
              from memory).
            </p>
          </Why>
        </Figure>
      )}
      {lot.stain !== null && (
        <Figure
          label="Alive now, predicted"
          value={percent(lot.stain.predictedNow.value, 1)}
          range={percentRange(lot.stain.predictedNow)}
        >
          <Why>
            <p>
              {lot.stain.live} live and {lot.stain.dead} dead by {lot.stain.stain},{' '}
              {moment(lot.stain.at)}: {percent(lot.stain.percent.value, 1)} (
              {percentRange(lot.stain.percent)}, Wilson). {lot.stain.note} Since then{' '}
              {lot.stain.predictedNow.equivalentDays.toFixed(1)} days as at 1 °C, at a loss fitted
              to McCaig and Bendiak 1985; strains differ widely.
            </p>
          </Why>
        </Figure>
      )}
    </div>
  );
}

function Actions({ lot, onDone }: Props) {
  const name = lot.held === null ? 'Put on hold' : 'Release from hold';
  return (
    <>
      <Drawer title="Store temperature">
        <StoreTemperatureForm lot={lot} onDone={onDone} />
      </Drawer>
      <Drawer title={name}>
        <HoldForm lot={lot} onDone={onDone} />
      </Drawer>
      <Drawer title="Plate it">
        <PlateForm lot={lot} onDone={onDone} />
      </Drawer>
      {lot.pendingChecks.length > 0 && (
        <Drawer title="Read a plate">
          <PlateResultForm lot={lot} onDone={onDone} />
        </Drawer>
      )}
      <Drawer title="Acid wash or other treatment">
        <TreatmentForm lot={lot} onDone={onDone} />
      </Drawer>
      <Drawer title="Throw away">
        <DiscardForm lot={lot} onDone={onDone} />
      </Drawer>
    </>
  );
}

function Drawer({ title, children }: { title: string; children: ComponentChildren }) {
  return (
    <details class="sheet">
      <summary>{title}</summary>
      {children}
    </details>
  );
}

function History({ lot }: { lot: LotPage }) {
  const replaced = new Set(lot.history.map((row) => row.supersedes));
  return (
    <RuledTable
      caption="Everything written about this lot"
      quiet
      rows={lot.history}
      keyOf={(row) => row.id}
      struck={(row) => replaced.has(row.id)}
      columns={[
        { head: 'When', cell: (row) => moment(row.happenedAt), names: true },
        { head: 'What', cell: (row) => row.kind.replace(/[A-Z]/g, (c) => ` ${c.toLowerCase()}`) },
        { head: 'Who', cell: (row) => row.by },
        { head: 'Why changed', cell: (row) => row.reason ?? '' },
      ]}
    />
  );
}
