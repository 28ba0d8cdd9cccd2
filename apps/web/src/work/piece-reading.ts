import type { LayerRule } from '@haunch/drawing';
import { type DescribeOptions, JobSchema } from '@haunch/job';
import type { WireDocument } from './wire.js';

/** How the job says that a drawing is to be read, as the reader takes it. */
export function readingOf({ text }: WireDocument, index: number): DescribeOptions {
  const piece = JobSchema.parse(JSON.parse(text)).pieces[index]!;
  const layers = Object.fromEntries(
    Object.entries(piece.layers).map(([name, rule]): [string, LayerRule] => [
      name,
      rule.as === 'pocket' || rule.as === 'hole'
        ? { as: rule.as, depth: rule.depth, face: rule.under ? 'n-' : 'n+' }
        : rule,
    ]),
  );
  return {
    layers,
    hiddenLayers: piece.hiddenLayers,
    keep: piece.keep,
    ...(piece.unit === undefined ? {} : { unit: piece.unit }),
    ...(piece.thickness === undefined ? {} : { thickness: piece.thickness }),
    ...(piece.joinWithin === undefined ? {} : { joinWithin: piece.joinWithin }),
  };
}
