import type { Made, Outputs } from '@haunch/job';
import { paperOf } from '@haunch/job/paper';
import { showJoints } from './show-joints.js';
import { showLayout } from './show-layout.js';
import { showPrograms } from './show-programs.js';
import type { ShownResult } from './shown-wire.js';

/** All that screens draw of a made job. */
export function showResult(made: Made, outputs: Outputs): ShownResult {
  const { sides, pieces } = paperOf(made, outputs.report);
  return {
    layout: showLayout(made),
    programs: showPrograms(made, sides, outputs),
    joints: showJoints(made),
    pieces,
  };
}
