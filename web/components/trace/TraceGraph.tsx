import { useEffect, useMemo, useRef } from 'preact/hooks';
import { useLocation } from 'preact-iso/router';
import { layoutOf, type Place } from '#shared/lineage/layout.ts';
import type { TraceEdge } from '#shared/lineage/traceEvidence.ts';
import type { TraceNode } from '#shared/lineage/traceNodes.ts';
import { moment } from '../../format.ts';
import { TraceBox } from './TraceBox.tsx';
import { boxAt, boxSize } from './traceBoxes.ts';
import { neighbourByKey } from './traceKeys.ts';
import { detailOf, kindWords, stateOf, statusWords } from './traceWords.ts';

type Props = {
  nodes: readonly TraceNode[];
  edges: readonly TraceEdge[];
  start: string;
  /** The record looked at, and the way to it. */
  at: string;
  path: ReadonlySet<string>;
  scale: number;
  hrefOf: (node: TraceNode) => string;
  onLook: (id: string) => void;
};

/** The family drawn from left to right; arrow keys go from record to record, Enter opens one. */
export function TraceGraph({ nodes, edges, start, at, path, scale, hrefOf, onLook }: Props) {
  const box = useRef<HTMLDivElement>(null);
  const { route } = useLocation();
  const layout = useMemo(
    () =>
      layoutOf(
        nodes.map(({ id }) => id),
        edges,
      ),
    [nodes, edges],
  );
  const size = boxSize(layout);
  const place = (id: string): Place => layout.places.get(id) ?? { column: 0, row: 0 };
  useEffect(() => scrollTo(box.current, place(start), scale), [layout, scale]);

  const go = (event: KeyboardEvent, from: string) => {
    const next = neighbourByKey(event.key, from, { layout, edges, start });
    if (event.key.startsWith('Arrow') || event.key === 'Home') event.preventDefault();
    if (next === undefined) return;
    onLook(next);
    box.current?.querySelector<HTMLElement | SVGElement>(`[data-node="${next}"]`)?.focus();
  };
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls must be reachable by key
    <section class="trace-graph" ref={box} tabIndex={0} aria-label="The family, drawn">
      {/* biome-ignore lint/a11y/useSemanticElements: a drawing cannot be a fieldset */}
      <svg
        role="group"
        aria-label="Arrow keys go from record to record, Enter opens one"
        viewBox={`0 0 ${size.width} ${size.height}`}
        width={size.width * scale}
        height={size.height * scale}
      >
        <g>
          {edges.map((edge) => (
            <path
              key={`${edge.parent} ${edge.child}`}
              class={edgeClass(edge, layout.tree.has(edge), path)}
              d={curve(place(edge.parent), place(edge.child))}
            />
          ))}
        </g>
        {nodes.map((node) => {
          const { x, y } = boxAt(place(node.id));
          return (
            <g key={node.id} transform={`translate(${x} ${y})`}>
              <a
                href={hrefOf(node)}
                data-node={node.id}
                tabIndex={node.id === at ? 0 : -1}
                class={nodeClass(node, path)}
                onFocus={() => onLook(node.id)}
                onKeyDown={(event) => go(event, node.id)}
                onClick={(event) => {
                  if (event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) return;
                  event.preventDefault();
                  route(hrefOf(node));
                }}
              >
                <title>{spoken(node)}</title>
                <TraceBox node={node} />
              </a>
            </g>
          );
        })}
      </svg>
    </section>
  );
}

function scrollTo(box: HTMLElement | null, place: Place, scale: number): void {
  if (box === null) return;
  const { x, y } = boxAt(place);
  box.scrollTo(x * scale - box.clientWidth / 3, y * scale - box.clientHeight / 2);
}

// A step that skips columns or joins a branch is drawn broken.
function edgeClass({ parent, child }: TraceEdge, isTree: boolean, path: ReadonlySet<string>) {
  const onPath = path.has(parent) && path.has(child);
  return `trace-edge${isTree ? '' : ' trace-joins'}${onPath ? ' on-path' : ''}`;
}

function nodeClass({ kind, side, status, id }: TraceNode, path: ReadonlySet<string>): string {
  const start = side === 'start' ? ' trace-start' : '';
  return `trace-node trace-${kind} trace-${status}${start}${path.has(id) ? ' on-path' : ''}`;
}

function curve(from: Place, to: Place): string {
  const a = boxAt(from);
  const b = boxAt(to);
  const [x1, y1] = [a.x + a.width, a.y + a.height / 2];
  const [x2, y2] = [b.x, b.y + b.height / 2];
  const bend = Math.min(60, (x2 - x1) / 2 + Math.abs(y2 - y1) / 6);
  return `M${x1} ${y1}C${x1 + bend} ${y1} ${x2 - bend} ${y2} ${x2} ${y2}`;
}

function spoken(node: TraceNode): string {
  const status = node.status === 'plain' ? '' : `, ${statusWords[node.status].word}`;
  const side = node.side === 'start' ? 'the record traced' : node.side;
  return `${kindWords[node.kind]} ${node.label}, ${detailOf(node)}, ${stateOf(node)}, ${moment(node.at)}${status}; ${side}`;
}
