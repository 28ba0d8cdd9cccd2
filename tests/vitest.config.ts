import { defineConfig } from 'vitest/config';

/**
 * The whole chain is tested as it is published: from the built packages, like the command line that many of these
 * tests start. It runs a quarter faster so than from sources, whose every import passes through the runner.
 */
export default defineConfig({
  test: { name: 'tests', include: ['**/*.test.ts'], testTimeout: 90_000, isolate: false },
});
