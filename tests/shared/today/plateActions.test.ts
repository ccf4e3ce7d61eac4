import { expect, test } from 'vitest';
import { plateActions } from '#shared/today/plateActions.ts';

const plate = {
  ...{ id: 'p', lotId: 'l', lotCode: 'TN-412A', medium: 'LWYM', looksFor: 'wild yeast' },
  purpose: 'routine',
  isLotLeft: true,
} as const;
const days = { today: '2026-03-06', tomorrow: '2026-03-07' };

test('plates of today and before are for today, those of tomorrow soon, later ones not yet', () => {
  const urgency = (dueDay: string) =>
    plateActions([{ ...plate, dueDay }], days).map((action) => action.urgency);
  expect(['2026-03-05', '2026-03-06', '2026-03-07', '2026-03-08'].map(urgency)).toEqual([
    ['today'],
    ['today'],
    ['soon'],
    [],
  ]);
});

test('a plate of a lot used up is still to be read, for its ferments and casks', () => {
  const [action] = plateActions([{ ...plate, isLotLeft: false, dueDay: '2026-03-05' }], days);
  expect(action?.detail).toBe(
    'It was to be read Thu 5 Mar. The lot is used up: its ferments and casks wait to hear of wild yeast.',
  );
  expect(action?.href).toBe('/yeast/l?read=p');
});
