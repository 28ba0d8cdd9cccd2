import type { Diagnostic, Hole } from '@haunch/model';
import { cross, dot, length, minus, toWorld, type Vec } from '../frame.js';
import { holesAway } from './diagnostics.js';
import { SAME_WAY } from './dryfit-tolerance.js';
import type { Solid } from './solid.js';

/** A blind hole in the world: where it is open, and which way it looks. mm */
interface Opening {
  readonly part: string;
  readonly hole: Hole;
  readonly at: Vec;
  readonly looks: Vec;
}

/** Holes are on one axis within this, mm: holes for one pin are drawn together, or by the same measures. */
const ON_AXIS = 0.05;

const openings = (s: Solid): Opening[] =>
  s.part.holes
    .filter((h) => h.depth !== 'through')
    .map((hole) => {
      const up = hole.face === 'n+';
      const { n } = s.frame;
      return {
        part: s.id,
        hole,
        at: toWorld(s.frame, hole.centre, up ? s.thickness : 0),
        looks: up ? n : [-n[0], -n[1], -n[2]],
      };
    });

const onOneAxis = (a: Opening, b: Opening): boolean =>
  a.part !== b.part &&
  a.hole.diameter === b.hole.diameter &&
  length(cross(a.looks, b.looks)) < SAME_WAY &&
  length(cross(minus(b.at, a.at), a.looks)) < ON_AXIS;

/** True where the first hole looks towards the other's place. */
const towards = (a: Opening, b: Opening): boolean => dot(minus(b.at, a.at), a.looks) > 0;

/**
 * Blind holes that look away from a hole on the same axis that looks at them, where neither has another to face it: holes
 * for shelf pins and dowels come in pairs that face each other, so that one of them is in the wrong face. One warning for
 * each two parts.
 */
export function holesInWrongFace(solids: readonly Solid[]): Diagnostic[] {
  const all = solids.flatMap(openings);
  const faced = (a: Opening): boolean => all.some((b) => onOneAxis(a, b) && towards(a, b) && towards(b, a));
  const found = new Map<string, { readonly away: Opening[]; readonly from: string }>();
  const alone = all.filter((a) => !faced(a));
  for (const away of alone)
    for (const from of alone)
      if (onOneAxis(away, from) && towards(from, away) && !towards(away, from)) {
        const key = `${away.part} ${from.part}`;
        const known = found.get(key);
        if (known) known.away.push(away);
        else found.set(key, { away: [away], from: from.part });
      }
  return [...found.values()].map(({ away, from }) =>
    holesAway(
      away[0]!.part,
      away.map((a) => a.hole.id),
      from,
    ),
  );
}
