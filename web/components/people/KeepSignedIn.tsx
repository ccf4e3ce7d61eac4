type Props = { isKept: boolean; onChange: (isKept: boolean) => void };

export function KeepSignedIn({ isKept, onChange }: Props) {
  return (
    <div class="field">
      <label class="choice-option">
        <input
          type="checkbox"
          checked={isKept}
          aria-describedby="keep-hint"
          onChange={(event) => onChange(event.currentTarget.checked)}
        />
        <span>Stay signed in on this device</span>
      </label>
      <span id="keep-hint" class="field-hint">
        For a month. Leave it off on a device that passes from hand to hand: you are then signed out
        after a shift of 12 hours.
      </span>
    </div>
  );
}
