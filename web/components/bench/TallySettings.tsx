import { useState } from 'preact/hooks';
import { keyName, keysWith, type TallyAct, tallyActs, usualTallyKeys } from '#shared/tally.ts';
import {
  keepTallyKeys,
  keepTallyMuted,
  keepTallyTarget,
  tallyKeys,
  tallyMuted,
  tallyTarget,
} from './tallyMemory.ts';

const names: Record<TallyAct, string> = {
  live: 'Live cell',
  dead: 'Dead cell',
  bud: 'Bud',
  undo: 'Undo',
  next: 'Next square',
  leave: 'Leave',
};

/** Sound, target and keys of the tally, kept on this device. */
export function TallySettings({ onDone }: { onDone: () => void }) {
  return (
    <div class="tally-settings">
      <button
        type="button"
        class="button quiet"
        aria-pressed={tallyMuted.value}
        onClick={() => {
          keepTallyMuted(!tallyMuted.value);
          onDone();
        }}
      >
        {tallyMuted.value ? 'Sound is off' : 'Sound is on'}
      </button>
      <label>
        Target, in cells
        <input
          type="text"
          inputMode="numeric"
          class="short"
          value={tallyTarget.value}
          onChange={(event) => {
            const target = Math.round(Number(event.currentTarget.value));
            if (target > 0) keepTallyTarget(target);
          }}
        />
      </label>
      <details>
        <summary>Change the keys</summary>
        <TallyKeyChoice />
      </details>
    </div>
  );
}

function TallyKeyChoice() {
  const [message, setMessage] = useState('');
  const change = (act: TallyAct) => (event: KeyboardEvent) => {
    if (event.key === 'Tab' || event.key === 'Shift') return;
    event.preventDefault();
    event.stopPropagation();
    const changed = keysWith(tallyKeys.value, act, event.code);
    if ('taken' in changed) {
      setMessage(`${keyName(event.code)} already means “${names[changed.taken]}”.`);
      return;
    }
    keepTallyKeys(changed.keys);
    setMessage(`${names[act]} is now ${keyName(event.code)}.`);
  };
  return (
    <>
      {tallyActs.map((act) => (
        <label key={act}>
          {names[act]}
          <input
            type="text"
            class="short"
            readOnly
            value={tallyKeys.value[act].map(keyName).join(' or ')}
            onKeyDown={change(act)}
          />
        </label>
      ))}
      <p>Put the cursor in a field and press the key you want.</p>
      <p role="status">{message}</p>
      <button type="button" class="button quiet" onClick={() => keepTallyKeys(usualTallyKeys)}>
        Back to J, K and B
      </button>
    </>
  );
}
