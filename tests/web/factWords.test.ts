import { expect, test } from 'vitest';
import { factWords, fieldWords } from '../../web/factWords.ts';

test('cells a pitch was expected to carry read as a number of cells, not digit by digit', () => {
  expect(fieldWords('expectedHighCells')).toBe('Most cells expected alive');
  expect(factWords('expectedHighCells', 12_765_232_014_161.838)).toBe('1.28 × 10¹³ cells');
});
