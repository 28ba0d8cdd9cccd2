import { type Diagnostic, diagnosticsOf } from '@haunch/model';

const say = diagnosticsOf('mates');

/** Two plates' faces would carry one edge, and they follow different thicknesses. */
export const markDoubtful = (part: string, edge: string, taken: string, other: string): Diagnostic =>
  say(
    'warning',
    'mark-doubtful',
    `edge ${edge} lies on a face of '${taken}' and on one of '${other}', which follow different thicknesses; '${taken}' was taken`,
    { part, feature: edge },
    'Say which it follows, by the "on" of that edge in the master.',
  );
