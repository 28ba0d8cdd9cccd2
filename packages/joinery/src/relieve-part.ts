import {
  cornerRelief,
  pointRingDistance,
  type ReliefDisc,
  relieveRing,
  segmentOfBulge,
  snap,
  snapRing,
} from '@haunch/geometry';
import type { Contour, Diagnostic, Part, Relief, ReliefForm } from '@haunch/model';
import type { Setbacks } from './clearance.js';
import { atCorner, cornerNotRelieved, reliefBreaksThrough } from './diagnostics.js';
import type { Contact, ContactRole } from './joinery.js';
import { type ReachedCorner, reachedCorners, standsProud } from './reached-corners.js';

/** How inside corners are relieved: the cutter's radius, how far the sharp corner is to be cleared (mm), and the form. */
export interface ReliefOptions {
  /** The radius that the cutter really cuts. */
  readonly radius: number;
  readonly surplus: number;
  readonly form: ReliefForm;
}

/** Which of two edges a relief along the wall must leave whole: grip faces first, hidden shoulders last. */
const KEEP: readonly ContactRole[] = ['wall', 'end', 'seat', 'shoulder'];

interface Wanted {
  readonly corner: ReachedCorner;
  readonly relief: Relief;
}

interface Attempt {
  readonly form: ReliefForm;
  readonly guide?: 'before' | 'after';
}

/** The edge to leave whole in a relief along the wall; undefined where both take part alike. */
function guideOf(c: ReachedCorner, contacts: readonly Contact[]): 'before' | 'after' | undefined {
  const rank = (edge: string) =>
    Math.min(...contacts.filter((k) => k.edge === edge).map((k) => KEEP.indexOf(k.role)));
  const [before, after] = [rank(c.edges[0]), rank(c.edges[1])];
  return before === after ? undefined : before < after ? 'before' : 'after';
}

/**
 * What is tried for a corner: the form asked for, and where there is no room for it along either wall, the one
 * to be left whole first. A short shoulder beside a wide cutter has room only for a relief in the tenon's cheek.
 */
function attemptsFor(c: ReachedCorner, contacts: readonly Contact[], form: ReliefForm): Attempt[] {
  const guide = guideOf(c, contacts);
  const first = guide ?? 'before';
  const along = 'along the wall' as const;
  return [
    guide === undefined ? { form } : { form, guide },
    { form: along, guide: first },
    { form: along, guide: first === 'before' ? 'after' : 'before' },
  ];
}

function wantedRelief(
  c: Contour,
  bounds: 'material' | 'air',
  corner: ReachedCorner,
  { form, guide }: Attempt,
  { radius, surplus }: ReliefOptions,
): Wanted | { readonly problem: string } {
  const corners = c.bare.vertices;
  const n = corners.length;
  const [p, q, r] = [
    corners[(corner.index + n - 1) % n]!,
    corners[corner.index]!,
    corners[(corner.index + 1) % n]!,
  ];
  const found = cornerRelief({
    before: segmentOfBulge(p, q, p.bulge),
    after: segmentOfBulge(q, r, q.bulge),
    air: bounds === 'air' ? 'left' : 'right',
    radius,
    surplus,
    form,
    ...(guide === undefined ? {} : { guide }),
  });
  if ('problem' in found) return found;
  const centre = { x: snap(found.centre.x), y: snap(found.centre.y) };
  return { corner, relief: { form, corner: corner.at, centre, radius, edges: corner.edges } };
}

function relieveContour<C extends Contour>(
  c: C,
  bounds: 'material' | 'air',
  part: string,
  contacts: readonly Contact[],
  setbacks: Setbacks,
  options: ReliefOptions,
  diagnostics: Diagnostic[],
): C {
  const giveUp = (corner: ReachedCorner, why: string) => {
    const clearance = Math.max(...corner.edges.map((e) => setbacks.get(e) ?? 0));
    const proud = standsProud(options.radius, corner.opening, clearance);
    diagnostics.push(cornerNotRelieved(why, proud, atCorner(part, c.id, corner.at)));
  };
  const corners = reachedCorners(c, bounds, contacts, options.radius).map((corner) => ({
    corner,
    left: attemptsFor(corner, contacts, options.form),
  }));
  /** Goes on to the corner's next attempt that can be made at all; gives it up when none is left. */
  const next = (state: (typeof corners)[number], why: string): Wanted | undefined => {
    let problem = why;
    for (let attempt = state.left.shift(); attempt !== undefined; attempt = state.left.shift()) {
      const w = wantedRelief(c, bounds, state.corner, attempt, options);
      if (!('problem' in w)) return w;
      problem = w.problem;
    }
    giveUp(state.corner, problem);
    return undefined;
  };
  let wanted = corners.flatMap((state) => {
    const w = next(state, '');
    return w === undefined ? [] : [{ state, w }];
  });
  // One corner that cannot be relieved must not cost the others theirs: it tries its next form, or is left out.
  while (wanted.length > 0) {
    const discs = wanted.map(
      ({ w }, k): ReliefDisc => ({
        centre: w.relief.centre,
        radius: w.relief.radius,
        corner: w.relief.corner,
        tag: `${c.id}/r${k}`,
      }),
    );
    const result = relieveRing(c.bare, bounds === 'air' ? 'inside' : 'outside', discs);
    if ('ring' in result)
      return { ...c, ring: snapRing(result.ring), reliefs: wanted.map(({ w }) => w.relief) };
    wanted = wanted.flatMap((entry) => {
      const { at } = entry.w.corner;
      if (at.x !== result.corner.x || at.y !== result.corner.y) return [entry];
      const w = next(entry.state, result.problem);
      return w === undefined ? [] : [{ state: entry.state, w }];
    });
  }
  return c;
}

/** Warns of every relief that runs into another curve that goes through the part. */
function breaks(part: Part, diagnostics: Diagnostic[]): void {
  const curves = [part.outline, ...part.through];
  for (const c of [...curves, ...part.pockets])
    for (const relief of c.reliefs)
      for (const other of curves)
        if (other.id !== c.id && pointRingDistance(other.ring, relief.centre) < relief.radius)
          diagnostics.push(reliefBreaksThrough(other.id, atCorner(part.id, c.id, relief.corner)));
}

/**
 * The part with every inside corner relieved that a square arris must reach, by the contacts of the part.
 * Corners that cannot be relieved stay sharp and are reported with how far the plate would stand proud.
 */
export function relievePart(
  part: Part,
  contacts: readonly Contact[],
  setbacks: Setbacks,
  options: ReliefOptions,
  diagnostics: Diagnostic[],
): Part {
  const relieve = <C extends Contour>(c: C, bounds: 'material' | 'air'): C =>
    relieveContour(c, bounds, part.id, contacts, setbacks, options, diagnostics);
  const out: Part = {
    ...part,
    outline: relieve(part.outline, 'material'),
    through: part.through.map((c) => relieve(c, 'air')),
    pockets: part.pockets.map((c) => relieve(c, 'air')),
  };
  breaks(out, diagnostics);
  return out;
}
