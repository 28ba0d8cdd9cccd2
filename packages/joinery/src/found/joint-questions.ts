import type { MasterPart } from '@haunch/model';
import { cross, dot, type Frame, length } from '../frame.js';
import { congruence } from '../mates/congruent.js';
import type { FoundPiece } from '../mates/find-mates.js';
import type { FlatPart } from '../mates/flat-part.js';
import { plateOf } from '../mates/plate-layers.js';
import { inverse, within } from '../mates/pose.js';
import { isJoint, PoseBook } from '../mates/pose-book.js';
import type { Standing } from '../mates/standing-plate.js';
import { answersClash } from './diagnostics.js';
import { compareFrames } from './order-ways.js';
import { placeWords } from './place-words.js';
import type { Asked } from './questions.js';

/** Whether two plates of a piece that make a joint are neither square nor parallel to each other. */
export function hasLeaning({ frames, mates }: FoundPiece): boolean {
  const of = new Map(frames.map((f) => [f.part, f.frame]));
  return mates.some(({ parts: [a, b] }) => {
    const [m, n] = [of.get(a)!.n, of.get(b)!.n];
    const sine = length(cross(m, n));
    return sine > 1e-3 && Math.abs(dot(m, n)) > 1e-3;
  });
}

/** A joint of a tree that spans a piece. */
interface Branch {
  readonly parent: string;
  readonly child: string;
}

/** The joints over which each part hangs on the one with the most joints, in the order in which they are reached. */
function branchesOf({ frames, mates }: FoundPiece): {
  readonly root: string;
  readonly branches: readonly Branch[];
} {
  const ids = frames.map((f) => f.part);
  const beside = (id: string): string[] =>
    ids.filter((o) => mates.some((m) => m.parts.includes(id) && m.parts.includes(o) && o !== id));
  const [root] = [...ids].sort(
    (a, b) => beside(b).length - beside(a).length || ids.indexOf(a) - ids.indexOf(b),
  );
  const reached = [root!];
  const branches: Branch[] = [];
  for (const parent of reached)
    for (const child of beside(parent)) {
      if (reached.includes(child)) continue;
      reached.push(child);
      branches.push({ parent, child });
    }
  return { root: root!, branches };
}

const middle = (s: Standing): number[] => [0, 1, 2].map((k) => (s.low[k]! + s.high[k]!) / 2);
const far = (a: Standing, b: Standing): number => Math.hypot(...middle(a).map((x, k) => x - middle(b)[k]!));

/** What is asked with, and in which words and axes it is shown. */
export interface JointAsking {
  readonly flat: readonly FlatPart[];
  readonly stood: (frames: readonly { readonly part: string; readonly frame: Frame }[]) => MasterPart[];
  readonly shown: (ways: readonly (readonly MasterPart[])[]) => readonly (readonly MasterPart[])[];
}

/**
 * Asks joint by joint how each part goes together with the one on which it hangs: all the places in which the two meet as well as in the
 * way that is given, since of a piece with many joints that go together in several ways not all arrangements can be listed. The frames of
 * the parts; null while a joint has no answer. Choices that would stand in another part's stead are marked, and refused.
 */
export function askJoints(
  way: FoundPiece,
  { flat, stood, shown }: JointAsking,
  asked: Asked,
): readonly { readonly part: string; readonly frame: Frame }[] | null {
  const own = way.frames.map(({ part, frame }, k) => {
    const of = flat.find((p) => p.id === part)!;
    return { part, of, frame, plate: plateOf(of, k) };
  });
  const book = new PoseBook(own.map((p) => p.plate));
  const known = new Map(own.map((p) => [p.part, { ...p, first: book.place(p.plate, p.frame) }]));
  const joined = (a: string, b: string): boolean =>
    way.mates.some((m) => m.parts.includes(a) && m.parts.includes(b));
  const { root, branches } = branchesOf(way);
  const placed = new Map<string, Standing>([[root, known.get(root)!.first]]);
  const framesOf = (more: readonly (readonly [string, Standing])[] = []) =>
    [...placed, ...more].map(([part, s]) => ({ part, frame: s.frame }));
  /** Whether a part cannot stand there beside what stands: something is in its way, or a joint is lost. */
  const clashes = (child: string, s: Standing): boolean =>
    [...placed].some(([id, o]) => {
      const met = book.meeting(o, s);
      return met === null || (joined(id, child) && !isJoint(met));
    });
  for (const { parent, child } of branches) {
    const on = placed.get(parent);
    if (!on) continue;
    const [p, c] = [known.get(parent)!, known.get(child)!];
    const drawn = book.meeting(p.first, c.first);
    // Parts alike that hang on one are told apart by where they are in the way that is given: exchanged they make the same piece.
    const twins = branches.filter(
      (b) => b.parent === parent && b.child !== child && congruence(known.get(b.child)!.of, c.of) !== null,
    );
    const places = book
      .around(p.first, c.plate)
      .filter((s) => {
        const met = book.meeting(p.first, s);
        return met !== null && drawn !== null && met.ends >= drawn.ends && met.bearings >= drawn.bearings;
      })
      .filter((s) => twins.every((t) => far(s, c.first) <= far(s, known.get(t.child)!.first)))
      .map((s) => within(inverse(p.first.frame), s.frame))
      .sort(compareFrames)
      .map((relative) => book.place(c.plate, within(on.frame, relative)));
    const id = `joint-${parent}-${child}`;
    if (places.length < 2 && !asked.has(id)) {
      placed.set(child, places[0] ?? c.first);
      continue;
    }
    const standing = shown(places.map((s) => stood(framesOf([[child, s]]))));
    const clash = places.map((s) => clashes(child, s));
    const meant = asked.ask({
      id,
      about: 'piece',
      text: `${child} goes together with ${parent} equally well in ${places.length} ways; where does it stand?`,
      choices: standing.map(
        (all, k) =>
          `${placeWords(all.find((q) => q.id === child)!)}${clash[k] ? ' (not with the other answers)' : ''}`,
      ),
      taken: null,
      parts: [child, parent],
      standing,
    });
    if (meant === null) continue;
    if (clash[meant]) {
      asked.refuse(answersClash(id, meant + 1));
      return null;
    }
    placed.set(child, places[meant]!);
  }
  return placed.size === way.frames.length ? framesOf() : null;
}
