import { defineConfig } from 'vitest/config';

/** Rooms without I/O, clock or chance of their own (test/layers.test.ts): what they remember depends on the arguments alone. */
const PURE = 'src/{core,formats,evidence,rehearsal,contract}/**/*.test.ts';

export default defineConfig({
  // A stray tsconfig.json in a folder above a clone must not reach the tests.
  oxc: { tsconfig: false } as object,
  test: {
    // The built program runs as it was built: its own loader, nothing transformed.
    server: { deps: { external: [/\/dist\//] } },
    testTimeout: 60_000,
    // The default leaves a core idle: on two cores everything would run in turn.
    maxWorkers: '100%',
    projects: [
      // Their files share a process, which loads and warms each module once.
      { extends: true, test: { name: 'pure', include: [PURE], isolate: false } },
      {
        extends: true,
        test: {
          name: 'rest',
          include: ['src/**/*.test.ts', 'test/**/*.test.ts'],
          exclude: ['**/node_modules/**', 'test/browser/**', PURE],
        },
      },
    ],
  },
});
