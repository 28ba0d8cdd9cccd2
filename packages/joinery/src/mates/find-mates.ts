import { snap } from '@haunch/geometry';
import { type Diagnostic, fail, type Outcome, ok } from '@haunch/model';
import type { DryRun } from '../dryfit/dry-run.js';
import type { Frame, Vec } from '../frame.js';
import { assemble } from './assemble.js';
import { congruence } from './congruent.js';
import {
  ambiguous,
  badPocket,
  badThickness,
  emptySlot,
  fitsNothing,
  noParts,
  sameId,
  severalPieces,
  stopped,
  unknownAnswer,
} from './diagnostics.js';
import { emptySlots, scoreWithSlots } from './empty-slots.js';
import { equalPieces } from './equal-pieces.js';
import type { FlatPart } from './flat-part.js';
import { inOrder, laidStraight } from './laid-straight.js';
import { leaningNotes } from './leaning-notes.js';
import type { Piece } from './piece.js';
import { type Plate, plateOf } from './plate-layers.js';
import { inverse, within } from './pose.js';
import { isJoint, PoseBook } from './pose-book.js';
import { mirrorOf, samePiece, samePlace } from './same-piece.js';
import type { Standing } from './standing-plate.js';

/** Where a part stands: world = origin + u·U + v·V + w·N, right-handed, w from its face n− to its face n+. mm */
export interface FoundFrame {
  readonly part: string;
  readonly piece: number;
  readonly frame: Frame;
}

/** Two parts that meet in a joint. `ends` of one meet the other's, `faces` bear; certainty 0 … 1. */
export interface FoundMate {
  readonly parts: readonly [string, string];
  readonly ends: number;
  readonly faces: number;
  readonly certainty: number;
}

/** One way to put a piece together. */
export interface FoundPiece {
  readonly frames: readonly FoundFrame[];
  readonly mates: readonly FoundMate[];
}

/** What the drawing does not say: which of the ways is meant. Way 0 is the one in `frames` and `mates`. */
export interface MateQuestion {
  readonly id: string;
  readonly text: string;
  /** Whether the ways are mirror images, differ by parts turned in their places, or otherwise. */
  readonly about: 'mirror' | 'turned' | 'places';
  /** Parts that stand otherwise. */
  readonly parts: readonly string[];
  readonly ways: readonly FoundPiece[];
}

/** What was found from flat parts. Plain data. */
export interface MateFindings {
  readonly kind: 'mate findings';
  readonly frames: readonly FoundFrame[];
  readonly mates: readonly FoundMate[];
  /** Parts that fit nothing. */
  readonly loose: readonly string[];
  readonly questions: readonly MateQuestion[];
  /** How many joints beyond a tree close loops in space. */
  readonly loops: number;
  readonly pieces: number;
}

/** What is known beforehand: answers to questions of an earlier run, by question, the way that is meant. */
export interface MateOptions {
  readonly answers?: Readonly<Record<string, number>>;
}

function problemsOf(parts: readonly FlatPart[]): Diagnostic[] {
  if (parts.length === 0) return [noParts()];
  const seen = new Set<string>();
  const out: Diagnostic[] = [];
  for (const p of parts) {
    if (seen.has(p.id)) out.push(sameId(p.id));
    seen.add(p.id);
    if (!Number.isFinite(p.thickness) || p.thickness <= 0) out.push(badThickness(p.id));
    else
      for (const { depth } of p.pockets)
        if (!(depth > 0 && depth < p.thickness)) out.push(badPocket(p.id, depth, p.thickness));
  }
  return out;
}

const snapped = (a: Vec): Vec => [snap(a[0]), snap(a[1]), snap(a[2])];
const unit = (a: Vec): Vec => {
  const clean = (x: number): number =>
    Math.abs(x) < 1e-9 ? 0 : Math.abs(Math.abs(x) - 1) < 1e-9 ? Math.sign(x) : x;
  return [clean(a[0]), clean(a[1]), clean(a[2])];
};

function told(piece: Piece, number: number, { parts, own, book }: Known, world: Frame): FoundPiece {
  const all = [...piece.standing].sort((a, b) => a[0] - b[0]);
  const frames = all.map(([k, s]) => {
    const f = within(world, within(s.frame, own[k]!));
    return {
      part: parts[k]!.id,
      piece: number,
      frame: { origin: snapped(f.origin), u: unit(f.u), v: unit(f.v), n: unit(f.n) },
    };
  });
  const mates: FoundMate[] = [];
  for (const [i, a] of all)
    for (const [j, b] of all) {
      if (j <= i) continue;
      const met = book.meeting(a, b);
      if (met === null || !isJoint(met)) continue;
      const certainty = Math.min(1, (met.ends + met.bearings / 2) / 4);
      mates.push({
        parts: [parts[i]!.id, parts[j]!.id],
        ends: met.ends,
        faces: met.bearings,
        certainty,
      });
    }
  return { frames, mates };
}

interface Classed {
  /** Congruent parts are one and the same plate. */
  readonly plates: readonly Plate[];
  /** The frame of each part's own drawing in that of its plate. */
  readonly own: readonly Frame[];
  /** All plates in an order that their shapes alone give, but for congruent ones. */
  readonly order: readonly number[];
}

function classed(parts: readonly FlatPart[]): Classed {
  const kinds: { readonly part: FlatPart; readonly words: readonly number[]; readonly of: number[] }[] = [];
  const own: Frame[] = [];
  parts.forEach((part, k) => {
    let there: Frame | null = null;
    const kind = kinds.find((o) => {
      there = congruence(o.part, part);
      return there !== null;
    });
    if (kind === undefined) {
      const laid = laidStraight(part);
      kinds.push({ part: laid.part, words: laid.words, of: [k] });
      own.push(laid.own);
    } else {
      kind.of.push(k);
      own.push(inverse(there!));
    }
  });
  kinds.sort(
    (a, b) =>
      busy(b.part) - busy(a.part) ||
      a.of.length - b.of.length ||
      inOrder(a.words, b.words) ||
      a.of[0]! - b.of[0]!,
  );
  const plates: Plate[] = [];
  kinds.forEach(({ part, of }, family) => {
    const plate = plateOf(part, family);
    for (const k of of) plates[k] = plate;
  });
  return { plates, own, order: kinds.flatMap((kind) => kind.of) };
}

const busy = (p: FlatPart): number => p.outline.vertices.length + 4 * p.through.length + 4 * p.pockets.length;

interface Known extends Classed {
  readonly parts: readonly FlatPart[];
  readonly book: PoseBook;
}

interface Search {
  /** The ways of each piece that are equally good. */
  readonly found: readonly (readonly Piece[])[];
  readonly loose: readonly number[];
  readonly stopped: boolean;
}

const whole = (pieces: readonly Piece[], count: number, plates: readonly Plate[]): boolean =>
  pieces.some((p) => p.standing.size === count && emptySlots(p, plates).length === 0);

const mostOf = (pieces: readonly Piece[], plates: readonly Plate[]): number =>
  Math.max(...pieces.map((p) => scoreWithSlots(p, plates)));

/** How many plates of a shape there are on average where one search is not enough, and where the usual one is the last. */
const ALIKE = 2;
const MANY_ALIKE = 4;

interface Attempt {
  /** The order in which plates are looked at; the first is begun with. */
  readonly order: readonly number[];
  readonly ahead: boolean;
}

/**
 * The order begun with the plate that has fewest slots, such as the last upright of a row: from there on the next one is
 * the only one that takes the same shelves, while from the middle a row may be begun both ways and neither be right.
 */
function fromAnEnd(order: readonly number[], plates: readonly Plate[]): readonly number[] {
  const slots = (k: number): number => plates[k]!.part.through.length + plates[k]!.part.pockets.length;
  const slotted = order.filter((k) => slots(k) > 0);
  if (slotted.length === 0) return order;
  const first = slotted.reduce((a, b) => (slots(b) < slots(a) ? b : a));
  return [first, ...order.filter((k) => k !== first)];
}

/**
 * The best pieces of several searches: one from the busiest plate where few plates are alike, and one from the least busy if
 * that leaves slots empty; where many are, from
 * an end of a row, from those that have most alike too and with a look ahead, until nothing is left loose and no slot empty.
 */
function fullest(
  order: readonly number[],
  plates: readonly Plate[],
  book: PoseBook,
  run?: DryRun,
): ReturnType<typeof assemble> {
  const copies = order.length / new Set(order.map((k) => plates[k])).size;
  const usual: Attempt = { order, ahead: false };
  const end: Attempt = { order: fromAnEnd(order, plates), ahead: true };
  const deep: Attempt = { order, ahead: true };
  const back: Attempt = { order: [...order].reverse(), ahead: false };
  const attempts =
    copies < ALIKE
      ? [usual, back]
      : copies < MANY_ALIKE
        ? [end, usual, deep, back]
        : [back, deep, end, usual];
  let best: readonly Piece[] = [];
  for (const { order: own, ahead } of attempts) {
    const result = assemble(
      own.map((k) => plates[k]!),
      0,
      book,
      ahead,
      run,
    );
    if (best.length === 0 || mostOf(result.pieces, plates) > mostOf(best, plates))
      best = result.pieces.map(
        (p): Piece => ({
          score: p.score,
          standing: new Map([...p.standing].map(([k, s]): [number, Standing] => [own[k]!, s])),
        }),
      );
    if (result.stopped) return { pieces: best, stopped: true };
    if (whole(best, order.length, plates)) break;
    // Where few plates are alike, one that is left over is loose; a slot that is left empty asks for another search.
    if (copies < ALIKE && best.some((p) => emptySlots(p, plates).length === 0)) break;
  }
  return { pieces: best, stopped: false };
}

function search(plates: readonly Plate[], order: readonly number[], book: PoseBook, run?: DryRun): Search {
  const left = new Set(order);
  const found: (readonly Piece[])[] = [];
  const loose: number[] = [];
  while (left.size > 0) {
    const result = fullest([...left], plates, book, run);
    const pieces = equalPieces(result.pieces, plates, book, run);
    const best = pieces[0];
    const taken = [...(best?.standing.keys() ?? left)];
    for (const k of taken) left.delete(k);
    if (best === undefined || best.standing.size < 2) loose.push(...taken);
    else found.push(pieces);
    if (result.stopped) return { found, loose: [...loose, ...left], stopped: true };
  }
  return { found, loose, stopped: false };
}

/** The world in which a piece's busiest part lies as it is drawn. */
function worldOf({ standing }: Piece, { parts, own }: Known): Frame {
  const all = [...standing.keys()].sort((a, b) => busy(parts[b]!) - busy(parts[a]!) || a - b);
  const first = all[0]!;
  return inverse(within(standing.get(first)!.frame, own[first]!));
}

const othersIn = (a: Piece, b: Piece): number[] =>
  [...a.standing].filter(([, s]) => ![...b.standing.values()].some((o) => samePlace(s, o))).map(([k]) => k);

function questionOf(n: number, ways: readonly Piece[], known: Known): MateQuestion {
  const [first, second] = ways as [Piece, Piece];
  const world = worldOf(first, known);
  const image = mirrorOf(first);
  const others = new Set(ways.slice(1).flatMap((w) => othersIn(first, w)));
  const names = [...others].sort((a, b) => a - b).map((k) => known.parts[k]!.id);
  const about =
    ways.length === 2 && image !== null && samePiece(image, second)
      ? 'mirror'
      : names.length * 2 <= first.standing.size
        ? 'turned'
        : 'places';
  const which = names.slice(0, 4).join(', ');
  const text =
    about === 'mirror'
      ? 'The parts make a piece and its mirror image equally well, and the drawing does not say which is meant.'
      : `The parts go together equally well in at least ${ways.length} ways, which differ in part ${which}${names.length > 4 ? ' and others' : ''}; the drawing does not say which is meant.`;
  return { id: `piece-${n}`, text, about, parts: names, ways: ways.map((p) => told(p, n, known, world)) };
}

/**
 * Finds how flat parts go together, square to each other or leaning through closed slots: which meet, and where each stands in space, from outlines,
 * through cuts and pockets alone, with the clearance and reliefs that are drawn in them. mm; each piece in the frame of
 * its busiest part; frames are right-handed. Strips of one plate that have material exactly where a strip of another
 * has none are laid together; pieces grow plate by plate, a bounded number side by side, and none may interpenetrate.
 * What the parts do not decide is a question with all its ways (mirror images, parts that may be turned); congruent
 * parts in each other's stead are none. Guarantees: pure; the same input gives the same findings; `run.tick` is asked at
 * each step and false ends the search with a warning. Pockets without a face are taken as cut from n+.
 */
export function findMates(
  parts: readonly FlatPart[],
  options: MateOptions = {},
  run?: DryRun,
): Outcome<MateFindings> {
  const problems = problemsOf(parts);
  if (problems.length > 0) return fail(...problems);
  const { plates, own, order } = classed(parts);
  const book = new PoseBook(plates);
  const known: Known = { plates, own, order, parts, book };
  const { found, loose, stopped: cut } = search(plates, order, book, run);
  const said: Diagnostic[] = cut ? [stopped()] : [];
  const questions: MateQuestion[] = [];
  const frames: FoundFrame[] = [];
  const mates: FoundMate[] = [];
  const answered = new Set<string>();
  found.forEach((ways, n) => {
    const id = `piece-${n}`;
    const answer = options.answers?.[id];
    const meant = ways[answer ?? 0];
    // Where only one way is left there is nothing to answer.
    if (answer !== undefined && meant !== undefined && ways.length > 1) answered.add(id);
    const piece = told(meant ?? ways[0]!, n, known, worldOf(ways[0]!, known));
    frames.push(...piece.frames);
    mates.push(...piece.mates);
    const empty = new Map<number, number>();
    for (const { plate } of emptySlots(meant ?? ways[0]!, plates))
      empty.set(plate, (empty.get(plate) ?? 0) + 1);
    for (const [k, count] of empty) said.push(emptySlot(parts[k]!.id, count));
    if (ways.length < 2 || answer !== undefined) return;
    const question = questionOf(n, ways, known);
    questions.push(question);
    said.push(ambiguous(id, question.text, piece.frames[0]!.part));
  });
  const unknown = Object.keys(options.answers ?? {}).filter((k) => !answered.has(k));
  if (unknown.length > 0) return fail(...unknown.map(unknownAnswer));
  if (!cut) for (const k of loose) said.push(fitsNothing(parts[k]!.id));
  const stood = new Map(frames.map((f) => [f.part, f.frame]));
  const pairs = new Set(mates.map((m) => [...m.parts].sort().join(' ')));
  said.push(
    ...leaningNotes(
      parts.map((p, k) => ({ id: p.id, plate: plateOf(p, k), frame: stood.get(p.id) ?? null })),
      (a, b) => pairs.has([a, b].sort().join(' ')),
    ),
  );
  if (found.length > 1)
    said.push(severalPieces(found.length, parts[[...found[1]![0]!.standing.keys()][0]!]!.id));
  return ok(
    {
      kind: 'mate findings',
      frames,
      mates,
      loose: loose.map((k) => parts[k]!.id),
      questions,
      loops: mates.length - frames.length + found.length,
      pieces: found.length,
    },
    said,
  );
}
