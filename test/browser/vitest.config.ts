import { defineConfig } from 'vitest/config';

/** One browser at a time: the tests share a machine with few cores and measure redraws. */
export default defineConfig({
  test: {
    include: ['test/browser/**/*.test.ts'],
    fileParallelism: false,
    testTimeout: 90_000,
    hookTimeout: 180_000,
  },
});
