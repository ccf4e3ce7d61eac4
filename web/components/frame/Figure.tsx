import type { ComponentChildren } from 'preact';

type Props = {
  label: string;
  /** Already worded with its unit: "10.9 L". */
  value: string;
  /** "8.3 to 14.2 L" */
  range?: string | undefined;
  /** The one figure a person acts on is the largest on the page. */
  size?: 'huge' | 'large' | 'plain';
  children?: ComponentChildren;
};

/** A figure that someone acts on: what it is, how much, how sure, and why. */
export function Figure({ label, value, range, size = 'large', children }: Props) {
  return (
    <div class={`figure figure-${size}`}>
      <p class="figure-label">{label}</p>
      <div>
        <p class="figure-value">
          <span class="figure-number">{value}</span>
          {range !== undefined && <span class="figure-range">{range}</span>}
        </p>
        {children}
      </div>
    </div>
  );
}
