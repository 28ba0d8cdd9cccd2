import type { MasterMate, MasterPart } from '@haunch/model';
import { cross, dot, length, minus, type Vec } from '../frame.js';
import { outlineId } from '../parts-of-master.js';
import type { Plate } from '../plate.js';
import { type NearContact, nearContacts } from './near-contacts.js';
import { boxOf, namedAxis } from './world.js';

/** What touches, mm. */
const TOUCHING = 0.001;

interface Touch {
  /** Out of the second plate's material, into the first's. */
  readonly normal: Vec;
  readonly contact: NearContact;
}

const back = (v: Vec): Vec => [-v[0] + 0, -v[1] + 0, -v[2] + 0];
const along = (a: Vec, b: Vec): boolean => dot(a, b) > 1 - 1e-6;
const square = (a: Vec, b: Vec): boolean => Math.abs(dot(a, b)) < 1e-6;

/** A way home for the second plate that nothing blocks, and how well it speaks for itself. */
interface Way {
  readonly move: Vec;
  readonly stops: boolean;
  /** 2: along the line in which the planes meet; 1: of the second plate through the first; 0: of the first through the second. */
  readonly kind: 0 | 1 | 2;
}

const leans = (a: Plate, b: Plate): boolean => !square(a.frame.n, b.frame.n);

/** The direction in which a plate passes through another: in its own plane, across the line in which the two meet. */
function slopeOf(through: Plate, other: Plate): Vec {
  if (!leans(through, other)) return other.frame.n;
  const s = cross(through.frame.n, cross(other.frame.n, through.frame.n));
  const l = length(s);
  return [s[0] / l, s[1] / l, s[2] / l];
}

/** How many ends in cuts of a plate lie against the other: where one leans, walls touch along arrises and tell nothing. */
const endsInCuts = (of: Plate, touches: readonly Touch[]): number =>
  touches.filter(({ contact }) =>
    [contact, ...('edge' in contact.on ? [{ plate: contact.other, edge: contact.on.edge }] : [])].some(
      (c) => c.plate === of && !c.edge.contour.endsWith('.outline'),
    ),
  ).length;

function waysHome(a: Plate, b: Plate, touches: readonly Touch[]): Way[] {
  const all: readonly (readonly [Vec, Way['kind']])[] = [
    [cross(a.frame.n, b.frame.n), 2],
    [slopeOf(b, a), 1],
    [slopeOf(a, b), 0],
  ];
  return all.flatMap(([d, kind]) =>
    [d, back(d)].flatMap((move): Way[] =>
      // It came from where it goes not: nothing of the first plate may lie behind it.
      touches.every((t) => dot(t.normal, move) > -1e-6)
        ? [{ move, kind, stops: touches.some((t) => along(t.normal, move)) }]
        : [],
    ),
  );
}

const middle = (p: MasterPart): Vec => {
  const { low, high } = boxOf(p);
  return [0, 1, 2].map((k) => (low[k]! + high[k]!) / 2) as unknown as Vec;
};

/**
 * How two plates that touch are joined: which has the slot, which enters and which way it goes home, in which
 * directions it is held and on what it stops; null where they only lie against each other. The contours that touch are
 * named. Of several ways home the line in which two notched plates cross goes first, then the way square to the slotted
 * plate; without a stop the entering plate comes from where most of it is.
 */
export function mateOfContacts(
  [p, a]: readonly [MasterPart, Plate],
  [q, b]: readonly [MasterPart, Plate],
): Omit<MasterMate, 'id'> | null {
  const touches = nearContacts(a, b, TOUCHING)
    .filter(({ edge, on }) => edge.backed && (!('edge' in on) || on.edge.backed))
    .map(
      (contact): Touch => ({
        normal: contact.plate === b ? contact.edge.normal : back(contact.edge.normal),
        contact,
      }),
    );
  if (touches.length === 0) return null;
  const mid = minus(middle(q), middle(p));
  const onSides = (of: Plate): number =>
    touches.filter((t) => t.contact.plate === of && 'side' in t.contact.on).length;
  const ways = waysHome(a, b, touches).map((w) => ({
    ...w,
    value:
      (w.stops ? 10 : 0) +
      // A lap has walls of both plates; else the one with walls is the slotted one.
      (w.kind === 2
        ? wallsAcross(a, touches, w.move) > 0 && wallsAcross(b, touches, w.move) > 0
          ? 5
          : 1
        : 0) +
      (w.kind === 1 ? Math.min(4, wallsAcross(a, touches, w.move)) : 0) +
      (w.kind === 0 ? Math.min(4, wallsAcross(b, touches, w.move)) : 0) +
      (leans(a, b) && w.kind !== 2 ? endsInCuts(w.kind === 1 ? a : b, touches) : 0) -
      (dot(mid, w.move) > 0 ? 0.5 : 0),
  }));
  const [best] = ways.sort((x, y) => y.value - x.value);
  if (!best) return null;
  const swapped = best.kind === 0 || (best.kind === 2 && onSides(b) > onSides(a));
  const [slotPart, slot, entering] = swapped ? [q, b, p] : [p, a, q];
  const move = swapped ? back(best.move) : best.move;
  const held = touches.map((t) => (swapped ? back(t.normal) : t.normal));
  const named = new Set<string>();
  for (const t of touches) {
    if (t.contact.plate === slot) named.add(t.contact.edge.contour);
    else if ('edge' in t.contact.on) named.add(t.contact.on.edge.contour);
    else if (t.contact.on.side.tag.endsWith('/floor'))
      named.add(t.contact.on.side.tag.slice(0, -'/floor'.length));
  }
  const cuts = [...named].filter((id) => id !== outlineId(slotPart.id));
  const features = (cuts.length > 0 ? cuts : [...named]).sort();
  const pocket = slotPart.pockets.some((c) => features.includes(c.id));
  return {
    type:
      best.kind === 2
        ? 'cross-lap'
        : pocket
          ? 'housing'
          : cuts.length > 0
            ? leans(a, b)
              ? 'through mortise and tenon at an angle'
              : 'through mortise and tenon'
            : isFingerRun(p, q, touches, cross(a.frame.n, b.frame.n))
              ? 'finger run'
              : 'open notch',
    slotPart: slotPart.id,
    slotFeatures: features,
    enteringPart: entering.id,
    enteringMoves: namedAxis(move),
    locates: directions(held.filter((n) => !along(n, move) && !along(n, back(move)))),
    ...(held.some((n) => along(n, move)) ? { stopsOn: namedAxis(move) } : {}),
  };
}

/** How many edges of a plate lie on the other's faces and hold it across a move. */
const wallsAcross = (of: Plate, touches: readonly Touch[], move: Vec): number =>
  touches.filter((t) => t.contact.plate === of && 'side' in t.contact.on && square(t.normal, move)).length;

/**
 * Whether two outlines stand finger between fingers: flanks of either meet the other's both ways along the line in which
 * the plates meet, and each has an edge on a face of the other, the root of a gap.
 */
function isFingerRun(p: MasterPart, q: MasterPart, touches: readonly Touch[], line: Vec): boolean {
  const outlines = [outlineId(p.id), outlineId(q.id)];
  const flanks = touches.filter(
    ({ contact: { edge, on } }) =>
      outlines.includes(edge.contour) && 'edge' in on && outlines.includes(on.edge.contour),
  );
  const roots = touches.filter(({ contact: { on } }) => 'side' in on);
  return (
    [line, back(line)].every((d) => flanks.some((t) => along(t.normal, d))) &&
    outlines.every((id) => roots.some(({ contact }) => contact.edge.contour === id))
  );
}

const ORDER = ['+X', '-X', '+Y', '-Y', '+Z', '-Z'];
const directions = (all: readonly Vec[]): MasterMate['locates'] =>
  [...new Set(all.map((n) => JSON.stringify(namedAxis(n))))]
    .map((text) => JSON.parse(text) as MasterMate['locates'][number])
    .sort((x, y) => ORDER.indexOf(String(x)) - ORDER.indexOf(String(y)));
