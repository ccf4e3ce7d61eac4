import { defineConfig } from 'vitest/config';

/** The fault tests at their full size: hundreds of kills and cuts instead of a handful. */
export default defineConfig({
  root: new URL('../..', import.meta.url).pathname,
  test: {
    include: ['tests/faults/**/*.test.ts'],
    env: { FAULTS: 'full' },
    testTimeout: 3_600_000,
    hookTimeout: 600_000,
  },
});
