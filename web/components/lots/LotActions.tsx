import type { LotPage, Saved } from '../../apiClient.ts';
import { siteName, sites } from '../../sites.ts';
import { PlateForm, PlateResultForm } from '../bench/PlateForms.tsx';
import { TreatmentForm } from '../bench/TreatmentForm.tsx';
import { washStarted } from '../bench/TreatmentTimer.tsx';
import { announce } from '../frame/Notice.tsx';
import { Opens } from '../frame/Opens.tsx';
import { DiscardForm, HoldForm, ReleaseForm, StoreTemperatureForm } from './StoreForms.tsx';
import { TransferForm } from './TransferForm.tsx';

type Props = {
  lot: LotPage;
  /** What the page was opened for: throwing it away, its temperature. */
  sought?: string | undefined;
  /** A plate to be read at once. */
  plateId?: string | undefined;
  onDone: () => void;
};

/** What is done with a lot, each where the hand finds it. */
export function LotActions({ lot, sought, plateId, onDone }: Props) {
  const saved = (close: () => void, text: string) => (entries: Saved[]) => {
    announce(text, { warnings: entries.flatMap(({ warnings }) => warnings) });
    close();
    onDone();
  };
  return (
    <div class="actions">
      {lot.pendingChecks.length > 0 && (
        <Opens
          label="Read its plate"
          quiet={!lot.pendingChecks.some(({ overdue }) => overdue)}
          isSought={plateId !== undefined}
        >
          {(close) => (
            <PlateResultForm
              lot={lot}
              plateId={plateId}
              onSaved={saved(close, `The plate of ${lot.code} is read.`)}
            />
          )}
        </Opens>
      )}
      <Opens label="Take its temperature" isSought={sought === 'temperature'}>
        {(close) => (
          <StoreTemperatureForm lot={lot} onSaved={saved(close, 'The temperature is recorded.')} />
        )}
      </Opens>
      <Opens label="Plate it">
        {(close) => <PlateForm lot={lot} onSaved={saved(close, `${lot.code} is plated.`)} />}
      </Opens>
      <Opens
        label="Acid wash, dilute, feed or sieve"
        title={`Treat ${lot.code}`}
        startOpen={washStarted(lot.id) !== undefined}
      >
        {(close) => (
          <TreatmentForm lot={lot} onSaved={saved(close, 'The treatment is recorded.')} />
        )}
      </Opens>
      {lot.held !== null && (
        <Opens label="Release it" title={`Release ${lot.code}`}>
          {(close) => <ReleaseForm lot={lot} onSaved={saved(close, `${lot.code} is released.`)} />}
        </Opens>
      )}
      <Opens label="Put it on hold" title={`Put ${lot.code} on hold`}>
        {(close) => <HoldForm lot={lot} onSaved={saved(close, `${lot.code} is on hold.`)} />}
      </Opens>
      {sites.value.length > 0 && lot.left > 0 && (
        <Opens label="Send it to another site" title={`Send ${lot.code} to another site`}>
          {(close) => (
            <TransferForm
              lot={lot}
              onSaved={(sent, siteId) => {
                announce(`${lot.code} is recorded as sent to ${siteName(siteId)}.`, {
                  warnings: sent?.warnings ?? [],
                  ...(sent === undefined || sent.waits
                    ? {}
                    : {
                        link: {
                          href: `/yeast/${sent.recordId}`,
                          label: `There it is ${sent.code ?? 'a lot'}`,
                        },
                      }),
                });
                close();
                onDone();
              }}
            />
          )}
        </Opens>
      )}
      <Opens label="Throw it away" title={`Throw ${lot.code} away`} isSought={sought === 'discard'}>
        {(close) => (
          <DiscardForm lot={lot} onSaved={saved(close, `${lot.code}: recorded as thrown away.`)} />
        )}
      </Opens>
    </div>
  );
}
