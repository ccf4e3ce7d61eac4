import type { TraceNode } from '#shared/lineage/traceNodes.ts';
import { generation } from '../../format.ts';
import { siteName, withSite } from '../../sites.ts';
import { Glyph } from '../frame/Status.tsx';
import { boxHeight, boxWidth } from './traceBoxes.ts';
import { nameOf, statusWords, toneOf } from './traceWords.ts';

/** One record of a drawn family: its kind by outline, its standing by shape and word. */
export function TraceBox({ node }: { node: TraceNode }) {
  const inset = 10;
  return (
    <>
      <Outline kind={node.kind} />
      <text class="trace-name" x={inset} y={24}>
        {shortened(nameOf(node), node.kind === 'casks' ? 17 : 12)}
      </text>
      <text class="trace-facts" x={boxWidth - inset} y={23} text-anchor="end">
        {node.generation === null || node.kind === 'casks' ? '' : generation(node.generation)}
      </text>
      {node.status === 'plain' ? (
        <text class="trace-facts" x={inset} y={47}>
          {shortened(secondLine(node), 22)}
        </text>
      ) : (
        <g class={`tag-${toneOf(node)}`}>
          <g transform={`translate(${inset} 33)`}>
            <Glyph tone={toneOf(node)} size={18} />
          </g>
          <text class="trace-status" x={inset + 25} y={47}>
            {withSite(statusWords[node.status].word, node.siteId)}
          </text>
        </g>
      )}
    </>
  );
}

function secondLine(node: TraceNode): string {
  const site = siteName(node.siteId);
  return site === undefined ? factOf(node) : `${site}: ${factOf(node)}`;
}

function factOf({ kind, detail, state }: TraceNode): string {
  if (kind === 'lot') return state;
  return kind === 'ferment' ? detail : detail.replace(/^No cask batch.*/, 'no cask batch');
}

const shortened = (text: string, most: number) =>
  text.length > most ? `${text.slice(0, most - 1)}…` : text;

/** A lot is round at its ends, a ferment square, casks bulge. */
function Outline({ kind }: Pick<TraceNode, 'kind'>) {
  const common = { class: 'trace-outline' };
  if (kind === 'casks')
    return (
      <path
        {...common}
        d={`M10 0H${boxWidth - 10}Q${boxWidth + 4} ${boxHeight / 2} ${boxWidth - 10} ${boxHeight}H10Q-4 ${boxHeight / 2} 10 0Z`}
      />
    );
  return (
    <rect {...common} width={boxWidth} height={boxHeight} rx={kind === 'lot' ? boxHeight / 3 : 0} />
  );
}
