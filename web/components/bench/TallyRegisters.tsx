import { keyName, type Tally, type TallyAct, tallyClasses } from '#shared/tally.ts';
import { tallyKeys } from './tallyMemory.ts';

const names = { live: 'Live', dead: 'Dead', bud: 'Bud' } as const;

type TallyRegistersProps = { tally: Tally; perform: (act: TallyAct) => void };

/** A register for each class of cell, and undo and next square, all big enough for a glove. */
export function TallyRegisters({ tally, perform }: TallyRegistersProps) {
  const marked = { live: tally.live, dead: tally.dead, bud: tally.buds };
  return (
    <>
      <div class="tally-registers">
        {tallyClasses.map((each) => (
          <button
            key={each}
            type="button"
            class={`tally-register ${each}`}
            aria-keyshortcuts={shortcutOf(each)}
            onClick={() => perform(each)}
          >
            <span class="tally-name">{names[each]}</span>
            <span class="tally-count">{marked[each]}</span>
            <kbd>{keysOf(each)}</kbd>
          </button>
        ))}
      </div>
      <div class="tally-moves">
        <button
          type="button"
          class="button quiet"
          aria-keyshortcuts={shortcutOf('undo')}
          onClick={() => perform('undo')}
        >
          Undo <kbd>{keysOf('undo')}</kbd>
        </button>
        <button
          type="button"
          class="button quiet"
          aria-keyshortcuts={shortcutOf('next')}
          onClick={() => perform('next')}
        >
          Square {tally.square} done, {tally.inSquare} in it <kbd>{keysOf('next')}</kbd>
        </button>
      </div>
    </>
  );
}

const keysOf = (act: TallyAct) => tallyKeys.value[act].map(keyName).join(' or ');
const shortcutOf = (act: TallyAct) => tallyKeys.value[act].slice(0, 1).map(keyName).join('');
