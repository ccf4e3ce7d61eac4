import type { LineAtSite } from '#shared/views/lines.ts';
import { fetchLines } from '../apiClient.ts';
import { Loaded } from '../components/frame/Loaded.tsx';
import { Page } from '../components/frame/Page.tsx';
import { SiteTag } from '../components/frame/SiteOfRecord.tsx';
import { useLoad } from '../components/frame/useLoad.ts';
import { LineState } from '../components/lines/LineState.tsx';
import { day, generation } from '../format.ts';
import { isOfAll, siteIdOf } from '../sites.ts';
import '../styles/sheets.css';
import '../styles/lines.css';

export function Lines() {
  const lines = useLoad(fetchLines);
  return (
    <Page title="Lines" lead="A line is all that descends from one fresh culture.">
      <Loaded of={lines}>{(items) => <LinesByState items={items} />}</Loaded>
    </Page>
  );
}

function LinesByState({ items }: { items: readonly LineAtSite[] }) {
  if (items.length === 0)
    return (
      <p class="empty">
        No line yet: it begins when you <a href="/yeast/new">enter a fresh culture</a>.
      </p>
    );
  const kept = items.filter(({ state }) => state !== 'ended');
  const ended = items.filter(({ state }) => state === 'ended');
  return (
    <>
      {kept.length > 0 && <LineRows items={kept} />}
      <p class="actions">
        <a class="button quiet" href="/plan#fresh">
          When to bring in fresh culture
        </a>
      </p>
      {ended.length > 0 && (
        <>
          <h2>Ended</h2>
          <LineRows items={ended} />
        </>
      )}
    </>
  );
}

function LineRows({ items }: { items: readonly LineAtSite[] }) {
  return (
    <ul class="line-rows">
      {items.map((line) => (
        <li key={`${line.id} ${line.siteId}`}>
          <a href={hrefOf(line)}>
            <span class="line-code">{line.code}</span>
            <span>
              {line.strain.name}, since {day(line.startedAt)} <SiteTag site={line.siteId} />
              <small>{extentOf(line)}</small>
            </span>
            <LineState state={line.state} />
          </a>
          {line.reasons.length > 0 && (
            <ul class="line-reasons">
              {line.reasons.map(({ rule, text }) => (
                <li key={`${rule} ${text}`}>{text}</li>
              ))}
            </ul>
          )}
        </li>
      ))}
    </ul>
  );
}

const hrefOf = ({ id, siteId }: LineAtSite) =>
  isOfAll.value ? `/lines/${id}?at=${siteIdOf(siteId)}` : `/lines/${id}`;

function extentOf({ state, highestGeneration, lotsInStore, running }: LineAtSite): string {
  const extent = `up to ${generation(highestGeneration)}`;
  if (state === 'ended') return extent;
  const lots = lotsInStore === 1 ? '1 lot in store' : `${lotsInStore} lots in store`;
  const ferments = running === 1 ? '1 ferment running' : `${running} ferments running`;
  return `${extent} · ${lots} · ${ferments}`;
}
