import type { TraceNode } from '#shared/lineage/traceNodes.ts';
import { moment } from '../../format.ts';
import { Tag } from '../frame/Status.tsx';
import { TraceMarks } from './TraceMarks.tsx';
import { detailOf, kindWords, nameOf, stateOf, statusWords } from './traceWords.ts';

type Props = { path: readonly TraceNode[]; hrefOf: (node: TraceNode) => string };

/** The record looked at, and the way to it from the one traced. */
export function TracePath({ path, hrefOf }: Props) {
  const node = path.at(-1);
  if (node === undefined) return null;
  const arrow = node.side === 'upstream' ? '←' : '→';
  return (
    <section class="trace-path" aria-label="The record looked at">
      <p role="status">
        <strong>{path.map(nameOf).join(` ${arrow} `)}</strong>
      </p>
      <p>
        {node.status !== 'plain' && (
          <Tag tone={statusWords[node.status].tone}>{statusWords[node.status].word}</Tag>
        )}{' '}
        {kindWords[node.kind]}: {detailOf(node)}
        {node.batches.length > 0 && ` (${node.batches.join(', ')})`}; {stateOf(node)};{' '}
        {moment(node.at)}
        {node.alsoFrom.length > 0 && `; also from ${node.alsoFrom.join(', ')}`}
      </p>
      <TraceMarks marks={node.marks} />
      <p class="actions">
        <a class="button quiet" href={hrefOf(node)}>
          Open {nameOf(node)}
        </a>
        {node.side !== 'start' && (
          <a class="button quiet" href={`/trace?of=${node.id}`}>
            Trace from here
          </a>
        )}
      </p>
    </section>
  );
}
