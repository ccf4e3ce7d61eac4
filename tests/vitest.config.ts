import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  test: {
    include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
    // Simulations and a real browser share two cores; a limit is for hanging, not for speed.
    testTimeout: 120_000,
    hookTimeout: 120_000,
  },
});
