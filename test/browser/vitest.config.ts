import { defineConfig } from 'vitest/config';

/** One browser at a time: the tests share a machine with few cores and measure redraws. */
export default defineConfig({
  // A stray tsconfig.json in a folder above a clone must not reach the tests.
  oxc: { tsconfig: false } as object,
  test: {
    // The built program runs as it was built: its own loader, nothing transformed.
    server: { deps: { external: [/\/dist\//] } },
    include: ['test/browser/**/*.test.ts'],
    fileParallelism: false,
    testTimeout: 90_000,
    hookTimeout: 180_000,
  },
});
