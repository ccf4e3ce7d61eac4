import { setup } from '../../settings.ts';
import { budWords, edgeWords } from './countValues.ts';

/** The rules of this brewery for what is a cell, where the cells are counted. */
export function CountingRules() {
  const brewery = setup.value?.brewery;
  if (!brewery) return null;
  return (
    <dl class="rules">
      <dt>Buds</dt>
      <dd>{budWords[brewery.budRule]}</dd>
      <dt>Edges</dt>
      <dd>{edgeWords[brewery.edgeRule]}</dd>
    </dl>
  );
}
