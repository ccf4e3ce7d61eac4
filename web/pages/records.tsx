import { Loaded } from '../components/frame/Loaded.tsx';
import { Page } from '../components/frame/Page.tsx';
import { useLoad } from '../components/frame/useLoad.ts';
import { BringIn } from '../components/lots/BringIn.tsx';
import { ImportList } from '../components/setup/ImportList.tsx';
import { fetchImports } from '../importsClient.ts';
import { signedIn } from '../signedIn.ts';
import { sites } from '../sites.ts';
import '../styles/sheets.css';
import '../styles/records.css';

const tables = [
  ['lots', 'Yeast lots'],
  ['ferments', 'Ferments'],
  ['pitches', 'Pitches'],
  ['readings', 'Readings'],
  ['crops', 'Crops'],
  ['counts', 'Counts'],
  ['stains', 'Stains'],
  ['store-readings', 'Store temperatures'],
  ['micro-checks', 'Plates'],
  ['micro-results', 'Plate readings'],
  ['treatments', 'Treatments'],
  ['discards', 'Thrown away'],
  ['racks', 'Rackings'],
  ['chills', 'Chillings'],
  ['holds', 'Holds'],
  ['releases', 'Releases'],
  ['planned-brews', 'Planned brews'],
  ['strains', 'Strains'],
  ['vessels', 'FVs'],
] as const;
const sentTables = [['transfers', 'Sent to another site']] as const;

function In() {
  const imports = useLoad(fetchImports);
  const onDone = () => {
    imports.reload();
    // The button that was pressed is gone; what came of it stands on top.
    document.getElementById('main')?.focus();
  };
  return (
    <>
      <BringIn onDone={onDone} />
      <Loaded of={imports}>{(runs) => <ImportList runs={runs} onUndone={onDone} />}</Loaded>
    </>
  );
}

/** Records in and out: what belongs to the brewery leaves as easily as it came. */
export function Records() {
  const isHead = signedIn.value?.roles.includes('head') === true;
  return (
    <Page
      title="Records in and out"
      lead="Old records from your spreadsheets in; everything you wrote down out, whenever you like."
      back={{ href: '/setup', label: 'Setup' }}
    >
      <section>
        <h2 id="out">Take records out</h2>
        <p class="prose">
          Each table opens in a spreadsheet. The whole log holds every entry with its seal,
          corrected and struck-out ones too.
        </p>
        <ul class="downloads">
          {[...tables, ...(sites.value.length > 0 ? sentTables : [])].map(([noun, label]) => (
            <li key={noun}>
              <a href={`/api/export/${noun}.csv`} download>
                {label}
              </a>
            </li>
          ))}
          <li>
            <a href="/api/export/log.json" download>
              The whole log (JSON)
            </a>
          </li>
        </ul>
      </section>
      {isHead ? <In /> : <p>Only the head brewer brings old records in.</p>}
    </Page>
  );
}
