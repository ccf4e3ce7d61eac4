import { appearance } from '../../settings.ts';
import { SetupPart } from './SetupPart.tsx';

const choices = [
  { value: 'system', label: 'As the device' },
  { value: 'light', label: 'Light' },
  { value: 'dark', label: 'Dark' },
];

/** Light or dark, on this device alone. */
export function Appearance() {
  return (
    <SetupPart
      id="device"
      title="This device"
      gist={`Light or dark: ${choices.find(({ value }) => value === appearance.value)?.label.toLowerCase()}`}
    >
      <fieldset class="field choice">
        <legend class="field-label">Light or dark</legend>
        <span class="field-hint">Kept on this device only.</span>
        <div class="choice-row">
          {choices.map(({ value, label }) => (
            <label key={value} class="choice-option">
              <input
                type="radio"
                name="appearance"
                value={value}
                checked={appearance.value === value}
                onChange={() => {
                  appearance.value = value;
                }}
              />
              <span>{label}</span>
            </label>
          ))}
        </div>
      </fieldset>
    </SetupPart>
  );
}
