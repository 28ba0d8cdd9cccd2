import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** Files that take long, those of the page and of the whole chain, begin first, so that no core waits for the last of them alone. */
class LongFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const long = (f: TestSpecification): number =>
      /\/(tests\/pipeline|apps\/web\/test)\//.test(f.moduleId) ? 0 : 1;
    return (await super.sort(files)).sort((a, b) => long(a) - long(b));
  }
}

export default defineConfig({
  test: {
    projects: ['packages/*', 'apps/*', 'tests'],
    // By itself the runner leaves one core idle, which on two cores is half of the machine.
    maxWorkers: '100%',
    sequence: { sequencer: LongFirst },
  },
});
