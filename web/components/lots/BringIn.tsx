import { gravityFieldUnits } from '#shared/gravityEntry.ts';
import { type SheetKind, sheetColumns, sheetKinds } from '#shared/imports/sheets.ts';
import { dateOrders } from '#shared/localTime.ts';
import { massUnits, temperatureUnits, volumeUnits } from '#shared/words.ts';
import { sites } from '../../sites.ts';
import { PlainSelect } from '../form/PlainSelect.tsx';
import { announce } from '../frame/Notice.tsx';
import { RuledTable } from '../frame/RuledTable.tsx';
import { sheetWords } from '../pitch/sheetWords.ts';
import { ImportFile } from '../setup/ImportFile.tsx';
import { readTextFile } from '../setup/readTextFile.ts';
import { type Import, useImport } from '../setup/useImport.ts';

const dateWords = {
  'day first': 'Day first: 31/12/2026',
  'month first': 'Month first: 12/31/2026',
  'year first': 'Year first: 2026-12-31',
};
const gravityWords = { sg: 'SG, as 1040 or 1.040', plato: '°P', degrees: 'Degrees, as 40' };

/** Old records from files: chosen, matched, tried, and brought in all or nothing. */
export function BringIn({ onDone }: { onDone: () => void }) {
  const work = useImport((entries) => {
    announce(`${entries} entries brought in`);
    onDone();
  });
  const { preview } = work;
  return (
    <section>
      <h2 id="in">Bring old records in</h2>
      <p class="prose">
        From a spreadsheet: save each table as CSV, with a line of headings. Strains and FVs must be
        in Setup first. Nothing is written until every row can be, and an import can be undone.
      </p>
      <Headings />
      <HowWritten work={work} />
      <h3 class="not-printed">Choose a file of</h3>
      <div class="actions">
        {sheetKinds.map((kind) => (
          <FileButton
            key={kind}
            kind={kind}
            onChosen={(name, csv) => work.add({ name, kind, csv, mapping: undefined })}
          />
        ))}
      </div>
      {work.files.map((file, at) => (
        <ImportFile
          key={`${file.name} ${file.kind}`}
          file={file}
          read={preview?.sheets[at]}
          onChange={(to) => work.change(at, to)}
          onRemove={() => work.remove(at)}
        />
      ))}
      <HowItGoes work={work} />
      {preview?.isReady && (
        <p class="actions">
          <button type="button" class="button" disabled={work.isBusy} onClick={work.bringIn}>
            Bring {preview.entries} entries in
          </button>
        </p>
      )}
    </section>
  );
}

/** What the rows leave unsaid: their site, and how dates and amounts are written in them. */
function HowWritten({ work }: { work: Import }) {
  return (
    <div class="units-row">
      <SiteOfRows work={work} />
      <PlainSelect
        label="Dates are written"
        value={work.units.dateOrder}
        options={dateOrders}
        words={dateWords}
        onChange={(dateOrder) => work.setUnits({ dateOrder })}
      />
      <PlainSelect
        label="Volumes are in"
        value={work.units.volume}
        options={volumeUnits}
        onChange={(volume) => work.setUnits({ volume })}
      />
      <PlainSelect
        label="Yeast is in"
        value={work.units.amount}
        options={['L', ...massUnits] as const}
        onChange={(amount) => work.setUnits({ amount })}
      />
      <PlainSelect
        label="Gravities are in"
        value={work.units.gravity}
        options={gravityFieldUnits}
        words={gravityWords}
        onChange={(gravity) => work.setUnits({ gravity })}
      />
      <PlainSelect
        label="Temperatures are in"
        value={work.units.temperature}
        options={temperatureUnits}
        onChange={(temperature) => work.setUnits({ temperature })}
      />
    </div>
  );
}

function HowItGoes({ work: { isBusy, problem, preview } }: { work: Import }) {
  return (
    <div role="status">
      {isBusy && <p class="loading">Trying every row…</p>}
      {problem !== null && (
        <div class="load-error">
          <p>{problem.detail}</p>
        </div>
      )}
      {preview !== null && !preview.isReady && (
        <p class="warning">
          Some rows need another look; nothing has been written. Mend them in the file and choose it
          again, or match the columns anew.
        </p>
      )}
    </div>
  );
}

/** Rows name their FVs, gyles and lots as they are called at one site. */
function SiteOfRows({ work }: { work: Import }) {
  if (sites.value.length === 0) return null;
  return (
    <PlainSelect
      label="The rows belong to"
      value={work.siteId ?? ''}
      options={['', ...sites.value.map(({ id }) => id)]}
      words={{
        '': 'Choose the site…',
        ...Object.fromEntries(sites.value.map(({ id, name }) => [id, name])),
      }}
      onChange={work.setSite}
    />
  );
}

type Chosen = { kind: SheetKind; onChosen: (name: string, csv: string) => void };

function FileButton({ kind, onChosen }: Chosen) {
  return (
    <label class="button quiet file-button">
      {sheetWords[kind]}
      <input
        type="file"
        accept=".csv,.tsv,.txt,text/csv,text/plain"
        onChange={async (event) => {
          const box = event.currentTarget;
          const file = box.files?.[0];
          if (file !== undefined) onChosen(file.name, await readTextFile(file));
          // The same file may be chosen again after it was mended.
          box.value = '';
        }}
      />
    </label>
  );
}

function Headings() {
  const rows = sheetKinds.map((kind) => ({ kind, columns: sheetColumns[kind] }));
  const names = (kind: SheetKind, isNeeded: boolean) =>
    sheetColumns[kind]
      .filter((column) => column.isNeeded === isNeeded)
      .map(({ label }) => label)
      .join(', ');
  return (
    <details class="more">
      <summary>Which columns each file may have</summary>
      <RuledTable
        caption="Columns of each file"
        quiet
        rows={rows}
        keyOf={({ kind }) => kind}
        columns={[
          { head: 'File', names: true, cell: ({ kind }) => sheetWords[kind] },
          { head: 'Needed', cell: ({ kind }) => names(kind, true) },
          { head: 'If there', cell: ({ kind }) => names(kind, false) },
        ]}
      />
      <p class="prose">
        Several cask batches, or several squares of a count, stand in one cell with semicolons
        between. A lot without a gyle it came from is a fresh culture. Where a row does not say, a
        crop is taken as skim 2, a stain as methylene blue, a chamber as improved Neubauer with
        medium squares.
      </p>
    </details>
  );
}
