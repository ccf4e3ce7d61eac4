import type { Recorded } from '#shared/views/recorded.ts';
import { mayStrikeHere } from '../../mayWrite.ts';
import { plannedWords } from '../ferments/plannedField.ts';
import type { Amending } from '../form/Amend.tsx';
import { collectHref } from './collectHref.ts';

type Brew = Recorded<'plannedBrew'>;
type Props = { brews: readonly Brew[]; amend: (amending: Amending<Brew>) => void };

/** Brews whose day has passed without a gyle: only a person can say what became of them. */
export function NotBrewed({ brews, amend }: Props) {
  const [its, it] = brews.length === 1 ? ['Its', 'it'] : ['Their', 'them'];
  return (
    <div class="warning" id="not-brewed">
      <p>
        {its} day has passed and no gyle was collected for {it}, so the plan keeps no yeast for {it}
        . Was it brewed?
      </p>
      <ul class="not-brewed">
        {brews.map((brew) => (
          <li key={brew.id}>
            <strong>{plannedWords(brew)}</strong>
            <NotBrewedActions brew={brew} amend={amend} />
          </li>
        ))}
      </ul>
    </div>
  );
}

function NotBrewedActions({ brew, amend }: { brew: Brew; amend: Props['amend'] }) {
  const of = <span class="unseen">: {plannedWords(brew)}</span>;
  return (
    <span class="amend-buttons">
      <a class="link" href={collectHref(brew.id)}>
        Collect it{of}
      </a>
      <button type="button" class="link" onClick={() => amend({ record: brew, how: 'correct' })}>
        Another day{of}
      </button>
      {mayStrikeHere() && (
        <button type="button" class="link" onClick={() => amend({ record: brew, how: 'strike' })}>
          Strike out{of}
        </button>
      )}
    </span>
  );
}
