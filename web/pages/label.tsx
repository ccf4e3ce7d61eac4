import { signal } from '@preact/signals';
import { useState } from 'preact/hooks';
import { useLocation } from 'preact-iso/router';
import type { LotStanding } from '#shared/views/lots.ts';
import { fetchLot, fetchLotsInStore } from '../apiClient.ts';
import { Loaded, soughtLot } from '../components/frame/Loaded.tsx';
import { Page } from '../components/frame/Page.tsx';
import { useLoad } from '../components/frame/useLoad.ts';
import { LabelAddress } from '../components/labels/LabelAddress.tsx';
import { lotAddress, ownAddress } from '../components/labels/labelAddress.ts';
import { type LabelSize, labelPlaces, labelSizes } from '../components/labels/labelSizes.ts';
import { LotLabel } from '../components/lots/LotLabel.tsx';
import { LotList } from '../components/lots/LotList.tsx';
import { keep, kept } from '../deviceMemory.ts';
import '../styles/sheets.css';
import '../styles/label.css';

const sizeName = 'barmbook.label';
const chosen = signal<LabelSize>(
  labelSizes.find(({ id }) => id === kept(sizeName)) ?? labelSizes[0],
);

/** The label of a lot, to be printed and stuck on its bin. */
export function Label() {
  const { lot } = useLocation().query;
  return lot === undefined ? <ChooseLabel /> : <LabelOf key={lot} id={lot} />;
}

function ChooseLabel() {
  const lots = useLoad(fetchLotsInStore);
  return (
    <Page
      title="Label"
      lead="Of which lot? Its label is stuck on the bin, and opens the lot on a phone."
      back={{ href: '/yeast', label: 'Yeast in store' }}
    >
      <Loaded of={lots}>
        {(items) => <LotList items={items} hrefOf={({ id }) => `/label?lot=${id}`} />}
      </Loaded>
    </Page>
  );
}

function LabelOf({ id }: { id: string }) {
  const lot = useLoad((signal) => fetchLot(id, signal), [id]);
  const code = lot.data?.code ?? 'the lot';
  return (
    <Page title={`Label of ${code}`} back={{ href: `/yeast/${id}`, label: code }}>
      <Loaded of={lot} sought={soughtLot}>
        {(known) => <LabelSheet lot={known} />}
      </Loaded>
    </Page>
  );
}

function LabelSheet({ lot }: { lot: LotStanding }) {
  const [copies, setCopies] = useState(1);
  const [from, setFrom] = useState(1);
  const size = chosen.value;
  const address = lotAddress(lot.id, location.origin, ownAddress.value);
  return (
    <>
      <div class="label-choices">
        <SizeChoice />
        <div class="pair">
          <Count id="label-copies" label="How many" value={copies} onSet={setCopies} />
          {size.perSheet > 1 && (
            <Count
              id="label-from"
              label="First free label on the sheet"
              value={from}
              onSet={setFrom}
            />
          )}
        </div>
        <LabelAddress lotId={lot.id} />
        <p class="actions">
          <button type="button" class="button" onClick={() => print()}>
            Print
          </button>
        </p>
        <p class="field-hint">
          In the print window choose this paper, a scale of 100 %, and no headers or footers.
        </p>
      </div>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: wider than a phone, it scrolls by keys */}
      <section class={`labels labels-${size.id}`} tabIndex={0} aria-label="As it will be printed">
        {labelPlaces(size, { copies, from }).map((place, at) =>
          place === 'blank' ? (
            <div key={at} class={`label-blank label-${size.id}`} />
          ) : (
            <LotLabel key={at} lot={lot} address={address} size={size} />
          ),
        )}
      </section>
    </>
  );
}

function SizeChoice() {
  return (
    <fieldset class="field choice">
      <legend class="field-label">Which labels</legend>
      <div class="choice-row">
        {labelSizes.map((size) => (
          <label key={size.id} class="choice-option">
            <input
              type="radio"
              name="label-size"
              checked={chosen.value.id === size.id}
              onChange={() => {
                chosen.value = size;
                keep(sizeName, size.id);
              }}
            />
            <span>{size.name}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}

type CountProps = { id: string; label: string; value: number; onSet: (value: number) => void };
const most = 96;

function Count({ id, label, value, onSet }: CountProps) {
  return (
    <div class="field">
      <label for={id} class="field-label">
        {label}
      </label>
      <input
        id={id}
        class="box-narrow"
        inputMode="numeric"
        autocomplete="off"
        value={String(value)}
        onChange={(event) => {
          const typed = Number.parseInt(event.currentTarget.value, 10);
          const next = Number.isNaN(typed) ? value : Math.min(most, Math.max(1, typed));
          event.currentTarget.value = String(next);
          onSet(next);
        }}
      />
    </div>
  );
}
