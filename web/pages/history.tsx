import { useRoute } from 'preact-iso/router';
import { fetchRecordHistory } from '../apiClient.ts';
import { Loaded, soughtRecord } from '../components/frame/Loaded.tsx';
import { announce } from '../components/frame/Notice.tsx';
import { Page } from '../components/frame/Page.tsx';
import { useLoad } from '../components/frame/useLoad.ts';
import { HistoryOf } from '../components/history/HistoryOf.tsx';
import { entryNames } from '../entryWords.ts';
import '../styles/sheets.css';
import '../styles/yeast.css';

/** The history of any record that has no page of its own. */
export function History() {
  const { id = '' } = useRoute().params;
  const load = useLoad((signal) => fetchRecordHistory(id, signal), [id]);
  const kind = load.data?.[0]?.kind;
  return (
    <Page
      title={kind === undefined ? 'History' : `${entryNames[kind]}: history`}
      lead="Nothing is overwritten: what was corrected or struck out stays legible."
      back={{ href: '/setup', label: 'Setup' }}
    >
      <Loaded of={load} sought={soughtRecord}>
        {(history) => (
          <HistoryOf
            what="this record"
            history={history}
            onStruck={() => {
              announce('Struck out.');
              load.reload();
            }}
          />
        )}
      </Loaded>
    </Page>
  );
}
