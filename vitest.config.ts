import { defineConfig } from 'vitest/config';

export default defineConfig({
  // By itself the runner leaves one core idle, which on two cores is half of the machine.
  test: { projects: ['packages/*', 'apps/*', 'tests'], maxWorkers: '100%' },
});
