import { useEffect, useRef, useState } from 'preact/hooks';
import {
  type BudRule,
  meetsTarget,
  type Tally,
  type TallyAct,
  tallied,
  tallyActOf,
  tallyOf,
} from '#shared/tally.ts';
import '../../styles/tally.css';
import { useFocusBack } from '../frame/useFocusBack.ts';
import { budWords } from './countValues.ts';
import { TallyRegisters } from './TallyRegisters.tsx';
import { TallySettings } from './TallySettings.tsx';
import { keepSequence, keptSequence, tallyKeys, tallyMuted, tallyTarget } from './tallyMemory.ts';
import { chime, tick } from './tallySound.ts';

export type TallyFigure = { label: string; value: string; range: string };

type TallyPanelProps = {
  /** Names the count this tally is for; an unfinished one is taken up again under it. */
  count: string;
  title: string;
  budRule: BudRule;
  figuresOf: (tally: Tally) => TallyFigure[];
  onUse: (tally: Tally) => void;
  onLeave: () => void;
};

const quietMs = 1200;

/** The tally at the microscope: the whole screen, every key kept as it is pressed. */
export function TallyPanel(props: TallyPanelProps) {
  const { count, budRule, figuresOf } = props;
  const dialog = useRef<HTMLDialogElement>(null);
  const panel = useRef<HTMLFieldSetElement>(null);
  const sequence = useRef(keptSequence(count));
  const [tally, setTally] = useState(() => tallyOf(sequence.current, budRule));
  useFocusBack();
  const keysOn = useKeysOn(dialog, panel);
  const spoken = useSpoken(tally);

  const perform = (act: TallyAct) => {
    if (act === 'leave') return props.onLeave();
    const before = tallyOf(sequence.current, budRule);
    sequence.current = tallied(sequence.current, act);
    keepSequence(count, sequence.current);
    const after = tallyOf(sequence.current, budRule);
    setTally(after);
    if (tallyMuted.value) return;
    tick(act);
    if (meetsTarget(before, after, tallyTarget.value)) chime();
  };
  const press = (event: KeyboardEvent) => {
    const act = tallyActOf(event, tallyKeys.value);
    // Enter on a button inside presses that button; it must not end the square as well.
    if (act === undefined || (act === 'next' && event.target !== panel.current)) return;
    event.preventDefault();
    event.stopPropagation();
    perform(act);
  };
  const backToPanel = (event: MouseEvent) => {
    if (event.detail > 0) panel.current?.focus();
  };
  return (
    <dialog
      ref={dialog}
      class="tally"
      aria-label={`Tally: ${props.title}`}
      onCancel={(event) => {
        event.preventDefault();
        props.onLeave();
      }}
    >
      <header class="tally-head">
        <h2>{props.title}</h2>
        <button type="button" class="button quiet" onClick={props.onLeave}>
          Leave
        </button>
      </header>
      <fieldset
        ref={panel}
        class="tally-panel"
        aria-label="Counting keys"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: it takes the counting keys, and only while it has focus
        tabIndex={0}
        onKeyDown={press}
        onClick={backToPanel}
      >
        <p class={keysOn ? 'tally-keys on' : 'tally-keys off'}>
          {keysOn ? 'Keys are on' : 'Keys are off: tap here to count'}
        </p>
        <TallyFigures figures={figuresOf(tally)} />
        <TallyRegisters tally={tally} perform={perform} />
      </fieldset>
      <p class="tally-spoken" role="status">
        {spoken}
      </p>
      <TallySquares tally={tally} />
      <p class="tally-rule">{budWords[budRule]}</p>
      <div class="tally-foot">
        <button
          type="button"
          class="button"
          disabled={tally.squares.length === 0}
          onClick={() => props.onUse(tally)}
        >
          Use this tally
        </button>
        <TallySettings onDone={() => panel.current?.focus()} />
      </div>
    </dialog>
  );
}

function TallyFigures({ figures }: { figures: TallyFigure[] }) {
  return (
    <dl class="tally-figures">
      {figures.map(({ label, value, range }) => (
        <div key={label}>
          <dt>{label}</dt>
          <dd>
            <strong>{value}</strong> <span>{range}</span>
          </dd>
        </div>
      ))}
    </dl>
  );
}

function TallySquares({ tally }: { tally: Tally }) {
  const target = tallyTarget.value;
  return (
    <div class="tally-squares">
      <p>
        {tally.cells >= target
          ? `Target of ${target} cells reached: finish this square, then stop.`
          : `${tally.cells} of ${target} cells`}
      </p>
      <ol aria-label="Cells in each square">
        {tally.squares.map((cells, index) => (
          <li key={index}>{cells}</li>
        ))}
      </ol>
    </div>
  );
}

/** Opens the dialog, puts focus on the panel and tells whether the panel has it. */
function useKeysOn(
  dialog: { current: HTMLDialogElement | null },
  panel: { current: HTMLFieldSetElement | null },
): boolean {
  const [on, setOn] = useState(false);
  useEffect(() => {
    const here = panel.current;
    const look = () =>
      setOn(document.hasFocus() && here?.contains(document.activeElement) === true);
    // focusout comes before focus has moved on.
    const lookSoon = () => setTimeout(look);
    const back = () => {
      if (document.activeElement === document.body || document.activeElement === dialog.current)
        here?.focus();
      look();
    };
    here?.addEventListener('focusin', look);
    here?.addEventListener('focusout', lookSoon);
    addEventListener('focus', back);
    addEventListener('blur', look);
    if (dialog.current?.open === false) dialog.current.showModal();
    here?.focus();
    look();
    return () => {
      removeEventListener('focus', back);
      removeEventListener('blur', look);
    };
  }, [dialog, panel]);
  return on;
}

/** The tally in words once no key has been pressed for a while, so that speech does not chatter. */
function useSpoken(tally: Tally): string {
  const [spoken, setSpoken] = useState('');
  useEffect(() => {
    const words = `Square ${tally.square}, cells in it: ${tally.inSquare}. Live in all: ${tally.live}, dead: ${tally.dead}, buds: ${tally.buds}.`;
    const timer = setTimeout(() => setSpoken(words), quietMs);
    return () => clearTimeout(timer);
  }, [tally]);
  return spoken;
}
