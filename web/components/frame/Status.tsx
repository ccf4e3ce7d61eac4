import type { VerdictWord } from '#shared/verdict.ts';

export type Tone = 'good' | 'watch' | 'stop' | 'spent' | 'plain';

const tones: Record<VerdictWord, Tone> = {
  fit: 'good',
  'test first': 'watch',
  hold: 'stop',
  'past it': 'spent',
};

/** The verdict on a lot: own shape, own word, own colour. */
export function Status({ verdict }: { verdict: VerdictWord }) {
  return <Tag tone={tones[verdict]}>{verdict}</Tag>;
}

/** Any other standing, such as that of a ferment or a line, in the same four meanings. */
export function Tag({ tone, children }: { tone: Tone; children: string }) {
  return (
    <span class={`tag tag-${tone}`}>
      <Glyph tone={tone} />
      {children}
    </span>
  );
}

/** The shape of a standing; `size` is for drawings, where text does not set it. */
export function Glyph({ tone, size }: { tone: Tone; size?: number }) {
  return (
    <svg
      class="glyph"
      viewBox="0 0 20 20"
      aria-hidden="true"
      focusable="false"
      {...(size === undefined ? {} : { width: size, height: size })}
    >
      {shapes[tone]}
    </svg>
  );
}

const shapes = {
  good: (
    <>
      <circle cx="10" cy="10" r="9" class="glyph-fill" />
      <path d="M5.5 10.5l3 3 6-7" class="glyph-mark" />
    </>
  ),
  watch: (
    <>
      <path d="M10 2.5L18.5 17.5H1.5Z" class="glyph-line" />
      <path d="M10 8v4.5M10 14.2v1.6" class="glyph-line" />
    </>
  ),
  stop: (
    <>
      <rect x="2" y="2" width="16" height="16" class="glyph-line" />
      <path d="M2 10h16" class="glyph-bar" />
    </>
  ),
  spent: <path d="M4 4l12 12M16 4L4 16" class="glyph-bar" />,
  plain: <circle cx="10" cy="10" r="4" class="glyph-line" />,
};
