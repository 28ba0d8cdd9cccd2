import type { Diagnostic, MasterPart, Part } from '@haunch/model';
import { dot, type Frame, frameOf, type Vec } from '../frame.js';
import { fitsNothing } from '../mates/diagnostics.js';
import type { FoundFrame, FoundMate, FoundPiece, MateFindings, MateQuestion } from '../mates/find-mates.js';
import { type FlatPart, flatPartOf } from '../mates/flat-part.js';
import { within } from '../mates/pose.js';
import { answersClash, holesDiffer } from './diagnostics.js';
import { type Hold, holdChoices, usualHolds } from './holds.js';
import { askJoints, hasLeaning } from './joint-questions.js';
import { type LoosePlace, loosePlaces } from './loose-places.js';
import { orderedWays } from './order-ways.js';
import { placeWords } from './place-words.js';
import type { Asked } from './questions.js';
import { atFrame, masterPart } from './standing.js';
import { exchanged, turnsByHoles, twinsByHoles } from './twin-holes.js';
import { inWorld, usualAxes } from './world.js';

/** So many parts are described in a choice. */
const DESCRIBED = 4;

/** A piece as it is to stand: its parts in their frames, and what meets in it. */
export interface ChosenPiece {
  readonly parts: readonly MasterPart[];
  readonly mates: readonly FoundMate[];
}

/**
 * Asks for each piece that goes together in several ways which one is meant: joint by joint, part by part or at once. Of a piece that is
 * not told yet some way stands for it.
 */
export function askPieces(
  parts: readonly Part[],
  found: MateFindings,
  asked: Asked,
  flat: readonly FlatPart[] = parts.map(flatPartOf),
): ChosenPiece[] {
  const byId = new Map(parts.map((p) => [p.id, masterPart(p)]));
  const stoodAt = (frames: readonly Pick<FoundFrame, 'part' | 'frame'>[]): MasterPart[] =>
    frames.map((f) => atFrame(byId.get(f.part)!, f.frame));
  const stood = (way: FoundPiece): MasterPart[] => stoodAt(way.frames);
  return Array.from({ length: found.pieces }, (_, n): ChosenPiece => {
    const question = found.questions.find((q) => q.id === `piece-${n}`);
    if (!question) {
      const frames = found.frames.filter((f) => f.piece === n);
      const own = new Set(frames.map((f) => f.part));
      const mates = found.mates.filter((m) => own.has(m.parts[0]));
      return { parts: stood({ frames, mates }), mates };
    }
    const ways = orderedWays(question.ways);
    if (ways.length > MOST_WAYS && hasLeaning(ways[0]!)) {
      const axes = stood(ways[0]!);
      const shown = (all: readonly (readonly MasterPart[])[]) => inOneWorld(all, axes);
      const frames = askJoints(ways[0]!, { flat, stood: stoodAt, shown }, asked);
      return { parts: frames ? stoodAt(frames) : stood(ways[0]!), mates: ways[0]!.mates };
    }
    const standing = inOneWorld(ways.map(stood));
    const meant =
      ways.length <= MOST_WAYS
        ? asked.ask({
            id: question.id,
            about: 'piece',
            text: question.text,
            choices: standing.map((s, k) => wayWords(question, s, k)),
            taken: null,
            parts: question.parts,
            standing,
          })
        : askPlaces(question, standing, asked);
    const way = ways[meant ?? 0]!;
    return { parts: stood(way), mates: way.mates };
  });
}

/** Ways turned and moved alike, as one of them is seen, so that what stands in one place in several does so in one world. */
function inOneWorld(
  ways: readonly (readonly MasterPart[])[],
  like: readonly MasterPart[] = ways[0]!,
): MasterPart[][] {
  const all = inWorld(ways.flat(), usualAxes(like));
  let next = 0;
  return ways.map((w) => {
    next += w.length;
    return all.slice(next - w.length, next);
  });
}

/** Of more ways than these, each part's place is asked by itself, so that every answer leaves fewer. */
const MOST_WAYS = 4;
/** Places that differ by less are one, mm. */
const SAME_PLACE = 2;

function samePlace(a: MasterPart | undefined, b: MasterPart | undefined): boolean {
  if (!a || !b) return a === b;
  const [f, g] = [frameOf(a), frameOf(b)];
  return (
    dot(f.n, g.n) > 0.99 &&
    dot(f.u, g.u) > 0.99 &&
    [0, 1, 2].every((k) => Math.abs(f.origin[k]! - g.origin[k]!) <= SAME_PLACE)
  );
}

/** Asks part by part where it stands, until the answers leave one way; its number, or null while they leave more. */
function askPlaces(
  question: MateQuestion,
  ways: readonly (readonly MasterPart[])[],
  asked: Asked,
): number | null {
  let left = ways.map((_, k) => k);
  let told: string[] = ways.map(() => '');
  for (const id of new Set(ways.flatMap((w) => w.map((p) => p.id)))) {
    const own = ways.map((w) => w.find((p) => p.id === id));
    const places: number[] = [];
    const of = own.map((p, k) => {
      const known = places.findIndex((m) => samePlace(own[m], p));
      return known >= 0 ? known : places.push(k) - 1;
    });
    // A part that stands as those before it have it needs no question; an answer to it must agree with theirs.
    const refined = told.map((t, k) => `${t} ${of[k]}`);
    const settled = new Set(left.map((k) => refined[k])).size === new Set(left.map((k) => told[k])).size;
    if (settled && (places.length === 1 || !asked.has(`stands-${id}`))) continue;
    told = refined;
    const open = new Set(left.map((k) => of[k]));
    const meant = asked.ask({
      id: `stands-${id}`,
      about: 'piece',
      text: `${question.text} Where does ${id} stand?`,
      choices: places.map(
        (m, n) =>
          `${own[m] ? placeWords(own[m]) : `${id} stands nowhere in the piece`}${open.has(n) ? '' : ' (not with the other answers)'}`,
      ),
      taken: null,
      parts: [id],
      standing: places.map((m, n) => ways[left.find((k) => of[k] === n) ?? m]!),
    });
    if (meant === null) continue;
    const next = left.filter((k) => of[k] === meant);
    if (next.length === 0) {
      asked.refuse(answersClash(`stands-${id}`, meant + 1));
      return 0;
    }
    left = next;
  }
  return left.length === 1 ? left[0]! : null;
}

function wayWords(q: MateQuestion, standing: readonly MasterPart[], k: number): string {
  if (q.about === 'mirror' && k > 0) return 'the mirror image of the first';
  const named = standing.filter((p) => q.parts.includes(p.id)).slice(0, DESCRIBED);
  return named.map(placeWords).join('; ');
}

/** Asks which of two parts that are alike but for their holes stands where. */
export function askHoles(
  drawn: readonly Part[],
  standing: readonly MasterPart[],
  asked: Asked,
  said: Diagnostic[],
): MasterPart[] {
  const out = [...standing];
  const { pairs, many } = twinsByHoles(drawn);
  for (const family of many) said.push(holesDiffer(family.map((i) => drawn[i]!.id)));
  for (const { parts, over } of pairs) {
    const [a, b] = parts.map((i) => out.findIndex((p) => p.id === drawn[i]!.id)) as [number, number];
    if (a < 0 || b < 0) continue;
    const [p, q] = [out[a]!, out[b]!];
    const frames = exchanged(p, q, over);
    const swapped = [atFrame(p, frames[0]), atFrame(q, frames[1])] as const;
    const ids = [p.id, q.id].sort() as [string, string];
    const others = out.filter((x) => x !== p && x !== q);
    const meant = asked.ask({
      id: `holes-${ids[0]}-${ids[1]}`,
      about: 'holes',
      text: `Parts ${ids[0]} and ${ids[1]} are alike but for their holes, and the drawing does not say which stands where.`,
      choices: [[p, q], [...swapped]].map((c) =>
        [...c]
          .sort((x, y) => (x.id < y.id ? -1 : 1))
          .map(placeWords)
          .join('; '),
      ),
      taken: null,
      parts: ids,
      standing: [
        [...others, p, q],
        [...others, ...swapped],
      ],
    });
    if (meant === 1) [out[a], out[b]] = swapped;
  }
  return out;
}

const turnWords = ({ u, v, n }: Frame): string => {
  if (n[2] < 0)
    return u[0] > 0.99 ? 'turned over about its X' : v[1] > 0.99 ? 'turned over about its Y' : 'turned over';
  return `turned by ${Math.round((Math.atan2(u[1], u[0]) * 180) / Math.PI)}° in its plane`;
};

/** Asks which way round a part stands whose shape is the same several ways round, but whose holes are not. */
export function askTurns(
  drawn: readonly Part[],
  standing: readonly MasterPart[],
  asked: Asked,
): MasterPart[] {
  const out = [...standing];
  standing.forEach((p, i) => {
    const turns = turnsByHoles(drawn.find((d) => d.id === p.id)!);
    if (turns.length === 0) return;
    const ways = [p, ...turns.map((f) => atFrame(p, within(frameOf(p), f)))];
    const meant = asked.ask({
      id: `turned-${p.id}`,
      about: 'holes',
      text: `Part ${p.id} has the same shape more than one way round, but its holes have not, and the drawing does not say which way round it stands.`,
      choices: ['as it is found', ...turns.map(turnWords)].map((w, k) => `${w}: ${placeWords(ways[k]!)}`),
      taken: null,
      parts: [p.id],
      standing: ways.map((w) => out.map((x) => (x.id === p.id ? w : x))),
    });
    if (meant !== null) out[i] = ways[meant]!;
  });
  return out;
}

/** Where parts that make no joint belong: in a place that was chosen, or beside the piece. */
export interface PlacedLoose {
  readonly placed: readonly MasterPart[];
  readonly beside: readonly MasterPart[];
}

const looseWords = ({ between: [a, b], gap, part }: LoosePlace): string =>
  `between ${a} and ${b} with ${gap} mm of air on each side: ${placeWords(part)}`;

/** Asks where each part belongs that makes no joint, where there are places for it; the others lie beside. */
export function askLoose(
  drawn: readonly Part[],
  loose: readonly string[],
  standing: readonly MasterPart[],
  asked: Asked,
  said: Diagnostic[],
): PlacedLoose {
  const placed: MasterPart[] = [];
  const beside: MasterPart[] = [];
  for (const id of loose) {
    const part = masterPart(drawn.find((p) => p.id === id)!);
    const there = [...standing, ...placed];
    const places = loosePlaces(part, there);
    if (places.length === 0) {
      said.push(fitsNothing(id));
      beside.push(part);
      continue;
    }
    const meant = asked.ask({
      id: `loose-${id}`,
      about: 'loose',
      text: `Part ${id} makes no joint with another part; it may lie loose in the piece.`,
      choices: [...places.map(looseWords), 'it lies beside the piece and belongs to none of it'],
      taken: null,
      parts: [id],
      standing: [...places.map((p) => [...there, p.part]), there],
    });
    const place = meant === null ? undefined : places[meant];
    if (place) placed.push(place.part);
    else beside.push(part);
  }
  return { placed, beside };
}

/** Asks what of each plate stays when its thickness changes; the usual, or what is known, where nobody answers. */
export function askHolds(
  parts: readonly MasterPart[],
  known: ReadonlyMap<string, Hold> | undefined,
  asked: Asked,
): MasterPart[] {
  const usual = usualHolds(parts);
  return parts.map((p, i): MasterPart => {
    const choices = holdChoices(p);
    const hold = known?.get(p.id) ?? usual[i]!;
    const meant = asked.ask({
      id: `hold-${p.id}`,
      about: 'hold',
      text: `What of ${p.id} stays where it is when its thickness changes?`,
      choices: choices.map((c) => c.text),
      taken: choices.findIndex((c) => c.hold === hold) + 1,
      parts: [p.id],
    });
    return { ...p, hold: choices[meant!]!.hold };
  });
}

const UPS = ['+Z, as it is found', '-Z, upside down', '+Y', '-Y', '+X', '-X'];

/** Asks which way up a piece stands, by the axes in which it is shown where nobody says it; that direction. */
export function askUp(piece: readonly MasterPart[], n: number, asked: Asked): Vec {
  const [x, y, z] = usualAxes(piece);
  const meant = asked.ask({
    id: `up-${n}`,
    about: 'up',
    text: 'Which way up does the piece stand, by the axes in which it is shown?',
    choices: UPS,
    taken: 1,
    parts: [piece[0]!.id],
  });
  const axis = [z, z, y, y, x, x][meant!]!;
  return meant! % 2 === 0 ? axis : [-axis[0], -axis[1], -axis[2]];
}
