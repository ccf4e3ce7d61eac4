import { computed, signal } from '@preact/signals';
import { clockTime, fullDay } from '../../format.ts';
import { signedIn } from '../../signedIn.ts';

const printedAt = signal(new Date());
addEventListener('beforeprint', () => {
  printedAt.value = new Date();
});

const words = computed(() => {
  const by = signedIn.value?.name;
  const when = `${fullDay(printedAt.value.toISOString())}, ${clockTime(printedAt.value)}`;
  return by === undefined ? `Printed ${when}` : `Printed ${when}, by ${by}`;
});

/** When a sheet was printed and by whom, in the head of it: paper is read at any time. */
export const Printed = () => <p class="printed-only printed">{words}</p>;
