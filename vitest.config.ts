import { defineConfig } from 'vitest/config';

export default defineConfig({
  // A stray tsconfig.json in a folder above a clone must not reach the tests.
  oxc: { tsconfig: false } as object,
  test: {
    include: ['src/**/*.test.ts', 'test/**/*.test.ts'],
    exclude: ['**/node_modules/**', 'test/browser/**'],
    testTimeout: 60_000,
    // The default leaves a core idle: on two cores everything would run in turn.
    maxWorkers: '100%',
  },
});
