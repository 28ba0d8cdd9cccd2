import { defineConfig } from 'vitest/config';
import { ENGINE_FLAGS } from '../vitest.base.js';

/**
 * The whole chain is tested as it is published: from the built packages, like the command line that many of these
 * tests call. It runs a quarter faster so than from sources, whose every import passes through the runner.
 */
export default defineConfig({
  test: {
    name: 'tests',
    include: ['**/*.test.ts'],
    testTimeout: 90_000,
    isolate: false,
    // What is built is taken as it is, not through the runner.
    server: { deps: { external: [/\/(packages|apps)\/[^/]+\/dist\//] } },
    // A command proves in this thread alone: the runner keeps the other cores busy already.
    env: { HAUNCH_THREADS: '1' },
    execArgv: ENGINE_FLAGS,
  },
});
