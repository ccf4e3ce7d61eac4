import { isLoopback } from '../labels/labelAddress.ts';

type Props = { label: string; text: string };

/** Something shown this once, to be copied now. */
export function Secret({ label, text }: Props) {
  return (
    <div class="secret" role="status">
      <p>
        <strong>{label}</strong>, shown this once: copy it now.
      </p>
      <p>
        <code>{text}</code>
      </p>
      {isLoopback(text) && (
        <p class="warning">
          This address only works on this computer: on another device put the address by which it
          reaches Barmbook in place of {new URL(text).host}.
        </p>
      )}
      {navigator.clipboard !== undefined && (
        <p>
          <button
            type="button"
            class="button quiet"
            onClick={() => void navigator.clipboard.writeText(text)}
          >
            Copy
          </button>
        </p>
      )}
    </div>
  );
}
