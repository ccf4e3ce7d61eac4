import {
  addressProblem,
  isLoopback,
  keepOwnAddress,
  lotAddress,
  ownAddress,
} from './labelAddress.ts';

/** The address a label leads to, and what to do when phones cannot follow it. */
export function LabelAddress({ lotId }: { lotId: string }) {
  const typed = ownAddress.value;
  const problem = addressProblem(typed);
  const address = lotAddress(lotId, location.origin, typed);
  const isOnlyHere = isLoopback(address);
  return (
    <div class={`field${problem === undefined ? '' : ' field-wrong'}`}>
      <label for="label-address" class="field-label">
        Address of Barmbook for phones
        <span class="field-optional"> (may be left out)</span>
      </label>
      <span id="label-address-hint" class="field-hint">
        {isOnlyHere
          ? 'This page was opened at an address that only works on this computer: a label printed now opens on no phone. Write the address by which phones reach it.'
          : `The label leads to ${address}`}
      </span>
      {problem !== undefined && (
        <span id="label-address-problem" class="field-problem">
          {problem}
        </span>
      )}
      <input
        id="label-address"
        value={typed}
        inputMode="url"
        autocomplete="off"
        placeholder="http://192.168.1.20:4180"
        aria-describedby={`label-address-hint${problem === undefined ? '' : ' label-address-problem'}`}
        aria-invalid={problem === undefined ? undefined : true}
        onInput={(event) => keepOwnAddress(event.currentTarget.value)}
      />
    </div>
  );
}
