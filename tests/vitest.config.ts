import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  test: {
    include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
    // Simulations and a real browser share two cores; a limit is for hanging, not for speed.
    // Much of it waits, for a browser or a child process; left to itself the runner keeps a core free.
    maxWorkers: '100%',
    testTimeout: 120_000,
    hookTimeout: 120_000,
  },
});
