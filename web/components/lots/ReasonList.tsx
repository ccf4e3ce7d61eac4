import type { ComponentChildren } from 'preact';
import type { Evidence, Reason } from '#shared/verdict.ts';
import type { LineStanding } from '#shared/views/lines.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import { Status } from '../frame/Status.tsx';
import { Why } from '../frame/Why.tsx';
import { LineState } from '../lines/LineState.tsx';

const evidenceWords: Record<Evidence, string> = {
  published: 'published',
  'second hand': 'at second hand',
  derived: 'derived',
  'from memory': 'from memory',
  'house policy': 'house policy',
  record: 'the record itself',
};

/** Every reason of the verdict on a lot, the worst first: figure, limit, and who says so. */
export function ReasonList({ lot }: { lot: LotStanding }) {
  return (
    <Reasons
      reasons={lot.verdict.reasons}
      tagOf={(verdict) => <Status verdict={verdict} />}
      linkOf={recordBelow}
      strainName={lot.strain.name}
    />
  );
}

/** The same for a line. */
export function LineReasonList({ line }: { line: LineStanding }) {
  return (
    <div class="line-verdict">
      <Reasons
        reasons={line.reasons}
        tagOf={(verdict) => <LineState state={verdict} />}
        linkOf={(href) => href}
        strainName={line.strain.name}
      />
    </div>
  );
}

/** The record stands in the history of the same page. */
const recordBelow = (href: string) => href.slice(href.indexOf('#'));

type Props<Word extends string> = {
  reasons: readonly Reason<Word>[];
  tagOf: (verdict: Word) => ComponentChildren;
  linkOf: (href: string) => string;
  strainName: string;
};

function Reasons<Word extends string>({ reasons, tagOf, linkOf, strainName }: Props<Word>) {
  return (
    <ul class="reason-list">
      {reasons.map((reason) => (
        <li key={`${reason.rule} ${reason.text}`}>
          {tagOf(reason.verdict)}
          <div>
            <p>
              <strong>{reason.text}</strong>
            </p>
            <p class="reason-figure">
              {reason.figure} <span class="reason-limit">(limit: {reason.limit})</span>
            </p>
            <Why title="Who says so">
              <p>
                {sentence(reason)} {strainName}’s limits are set{' '}
                <a href="/setup#strains">in Setup</a>.
              </p>
            </Why>
            {reason.href !== null && (
              <p class="not-printed">
                <a href={linkOf(reason.href)}>
                  See the record<span class="unseen">: {reason.text}</span>
                </a>
              </p>
            )}
          </div>
        </li>
      ))}
    </ul>
  );
}

function sentence({ source, evidence }: Pick<Reason, 'source' | 'evidence'>): string {
  const said = `${source.slice(0, 1).toUpperCase()}${source.slice(1)}`;
  return evidence === 'record' ? `${said}.` : `${said} (${evidenceWords[evidence]}).`;
}
