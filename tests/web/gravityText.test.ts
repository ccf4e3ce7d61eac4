import { expect, test } from 'vitest';
import { gravitiesMeant, gravityTyped } from '../../web/gravityText.ts';

// ASBC cubic: 13 °P is 1052.6.
test('13 typed as SG is questioned, and offered as °P and as degrees', () => {
  expect(gravityTyped('13', 'OG', 'SG')).toHaveProperty('problem');
  expect(gravitiesMeant('13', 'SG')).toEqual([1.0526, 1.013]);
});

test('1.040 typed as °P is questioned, and offered as it stands', () => {
  expect(gravityTyped('1.040', 'OG', '°P')).toHaveProperty('problem');
  expect(gravitiesMeant('1.040', '°P')).toEqual([1.04]);
});

test.each(['1040', '1.040', '1,040'])('%s is understood and offers nothing', (typed) => {
  expect(gravityTyped(typed, 'OG', 'SG')).toEqual({ value: 1.04 });
  expect(gravitiesMeant(typed, 'SG')).toEqual([]);
});

test('0.9 is no gravity, and nothing near it is offered', () => {
  expect(gravityTyped('0.9', 'OG', 'SG')).toHaveProperty('problem');
  expect(gravitiesMeant('0.9', 'SG')).toEqual([]);
});
