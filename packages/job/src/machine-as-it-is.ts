import { ringBounds } from '@haunch/geometry';
import type { Diagnostic, Layout, Part } from '@haunch/model';
import { machineAsItIs } from './diagnostics.js';
import type { FittedParts } from './fitted-parts.js';
import type { Job } from './job.js';
import { machineEffects } from './machine-effects.js';

/** What is laid, as far as a machine that is not true matters to it. */
interface Laid {
  readonly fitted: FittedParts;
  readonly layout: Layout;
  readonly boards: readonly { readonly items: readonly { readonly part: Part }[] }[];
}

/** Beyond this a mate notices what the machine does to it, mm; common practice, no source. */
const NOTICED = 0.03;

/**
 * What a machine that is not true does to a laid job whose programs are left as they are: said before the proof finds it part by part,
 * with the figure for every mate that notices and for the part whose edges come out furthest aside. mm
 */
export function asItIs(job: Job, laid: Laid): Diagnostic[] {
  const { distortion } = job.machine;
  if (!distortion || job.settings.machine.calibration?.programs !== 'as it is') return [];
  const mates = machineEffects(job, laid)
    .map((e) => ({ joint: e.joint, by: Math.max(Math.abs(e.along), Math.abs(e.across), e.askew) }))
    .filter((e) => e.by > NOTICED)
    .sort((a, b) => b.by - a.by || (a.joint < b.joint ? -1 : 1));
  // Parts are proved about their own middles: so far from it lie their outermost edges.
  const parts = laid.boards
    .flatMap((b) => b.items)
    .map(({ part }) => {
      const { minX, minY, maxX, maxY } = ringBounds(part.outline.ring);
      const [w, h] = [(maxX - minX) / 2, (maxY - minY) / 2];
      const aside = Math.abs(distortion.scaleX) * w + Math.abs(distortion.shear) * h;
      return { part: part.id, by: Math.max(aside, Math.abs(distortion.scaleY) * h) };
    })
    .sort((a, b) => b.by - a.by || (a.part < b.part ? -1 : 1));
  const [worst] = parts;
  if (!worst || (mates.length === 0 && worst.by <= NOTICED)) return [];
  return [machineAsItIs(mates, worst, job.file, job.lineOf(['machine', 'calibration', 'programs']))];
}
