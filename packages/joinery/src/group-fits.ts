import type { Point } from '@haunch/geometry';
import type { Fit, FitKind, Lean, MasterMate } from '@haunch/model';
import type { Allowance, JointAllowances } from './allowances.js';
import type { EdgeContact, FaceContact, MateContacts } from './contact.js';
import type { PlateEdge } from './plate.js';

/** Walls or ends that may face each other across a slot. */
interface Side {
  readonly edge: PlateEdge;
  readonly partner: PlateEdge | undefined;
  readonly lean: Lean | undefined;
}

/** The lean of a fit: that of its walls, which are parallel. */
const leaning = ([side]: readonly Side[]): { readonly lean?: Lean } =>
  side?.lean === undefined ? {} : { lean: side.lean };

const middle = (e: PlateEdge): Point => ({ x: (e.from.x + e.to.x) / 2, y: (e.from.y + e.to.y) / 2 });

/** How far across the air from one edge the other faces it, mm; nothing when they do not face each other. */
export function facingAcross(a: PlateEdge, b: PlateEdge): number | undefined {
  if (a.outward.x * b.outward.x + a.outward.y * b.outward.y > -1 + 1e-6) return undefined;
  const [m, n] = [middle(a), middle(b)];
  const gap = (n.x - m.x) * a.outward.x + (n.y - m.y) * a.outward.y;
  if (gap <= 0) return undefined;
  const along = { x: -a.outward.y, y: a.outward.x };
  const span = (e: PlateEdge) =>
    [e.from, e.to].map((p) => p.x * along.x + p.y * along.y).sort((p, q) => p - q);
  const [a0, a1] = span(a) as [number, number];
  const [b0, b1] = span(b) as [number, number];
  return Math.min(a1, b1) > Math.max(a0, b0) ? gap : undefined;
}

/**
 * Sides of one contour in pairs that face each other, nearest first, and those that are alone. A side whose
 * only opposites are taken (as where one wall of a slot is interrupted) shares the nearest of them.
 */
function pairSides(
  sides: readonly Side[],
  fits: (a: Side, b: Side) => boolean,
): (readonly [Side, Side] | readonly [Side])[] {
  const pairs: { i: number; j: number; gap: number }[] = [];
  for (let i = 0; i < sides.length; i++)
    for (let j = i + 1; j < sides.length; j++) {
      if (!fits(sides[i]!, sides[j]!)) continue;
      const gap = facingAcross(sides[i]!.edge, sides[j]!.edge);
      if (gap !== undefined) pairs.push({ i, j, gap });
    }
  pairs.sort((a, b) => a.gap - b.gap || a.i - b.i || a.j - b.j);
  const taken = new Set<number>();
  const chosen: { i: number; j: number | undefined }[] = [];
  for (const { i, j } of pairs)
    if (!taken.has(i) && !taken.has(j)) {
      chosen.push({ i, j });
      taken.add(i).add(j);
    }
  for (let i = 0; i < sides.length; i++) {
    if (taken.has(i)) continue;
    const pair = pairs.find((p) => p.i === i || p.j === i);
    chosen.push(pair ? { i: pair.i, j: pair.j } : { i, j: undefined });
  }
  chosen.sort((a, b) => a.i - b.i || (a.j ?? -1) - (b.j ?? -1));
  return chosen.map(({ i, j }) =>
    j === undefined ? ([sides[i]!] as const) : ([sides[i]!, sides[j]!] as const),
  );
}

const half = (a: Allowance): Allowance => ({
  wanted: a.wanted / 2,
  window: [a.window[0] / 2, a.window[1] / 2],
});

/** Contacts by the key of their group, groups and contacts in their order of appearance. */
function grouped<T>(items: readonly T[], key: (item: T) => string): T[][] {
  const groups = new Map<string, T[]>();
  for (const item of items) groups.set(key(item), [...(groups.get(key(item)) ?? []), item]);
  return [...groups.values()];
}

/** One of each edge: a contact over several stretches is one side. */
const once = <T>(items: readonly T[], key: (item: T) => string): T[] =>
  grouped(items, key).map(([first]) => first!);

type Unnamed = Omit<Fit, 'id' | 'joint'>;

function thicknessFits(contacts: readonly FaceContact[], allowance: Allowance): Unnamed[] {
  const walls = once(
    contacts.filter((c) => c.role === 'wall'),
    (c) => `${c.edge.tag} ${c.face.tag}`,
  );
  return grouped(walls, (c) => c.edge.contour).flatMap((group) => {
    const faceOf = new Map(group.map((c) => [c.edge, c.face.tag]));
    const sides = group.map((c): Side => ({ edge: c.edge, partner: undefined, lean: c.lean }));
    const pairs = pairSides(sides, (a, b) => faceOf.get(a.edge) !== faceOf.get(b.edge));
    return pairs.map(
      (pair): Unnamed => ({
        kind: 'thickness',
        slotPart: group[0]!.plate.id,
        contour: group[0]!.edge.contour,
        walls: pair.map((s) => s.edge.tag),
        enteringPart: group[0]!.other.id,
        enteringEdges: [],
        ...(pair.length === 2 ? allowance : half(allowance)),
        ...leaning(pair),
      }),
    );
  });
}

function endFits(contacts: readonly EdgeContact[], mate: MasterMate, allowance: Allowance): Unnamed[] {
  const ends = contacts.filter((c) => c.role === 'end');
  return grouped(ends, (c) => c.edge.contour).flatMap((group) => {
    const sides = group.map((c): Side => ({ edge: c.edge, partner: c.partner, lean: c.lean }));
    // The partners of two facing ends look away from each other: they are the sides of one tenon.
    const pairs = pairSides(sides, (a, b) => facingAcross(b.partner!, a.partner!) === undefined);
    return pairs.map(
      (pair): Unnamed => ({
        kind: 'ends',
        slotPart: mate.slotPart,
        contour: group[0]!.edge.contour,
        walls: pair.map((s) => s.edge.tag),
        enteringPart: mate.enteringPart,
        enteringEdges: pair.map((s) => s.partner!.tag),
        ...(pair.length === 2 ? allowance : half(allowance)),
        ...leaning(pair),
      }),
    );
  });
}

function seatFits({ edges, floors }: MateContacts, mate: MasterMate, allowance: Allowance): Unnamed[] {
  const laps = edges
    .filter((c) => c.role === 'seat')
    .map(
      (c): Unnamed => ({
        kind: 'seat',
        slotPart: mate.slotPart,
        contour: c.edge.contour,
        walls: [c.edge.tag],
        enteringPart: mate.enteringPart,
        enteringEdges: [c.partner.tag],
        ...allowance,
      }),
    );
  const housings = once(floors, (c) => `${c.floor.tag} ${c.edge.tag}`).map(
    (c): Unnamed => ({
      kind: 'seat',
      slotPart: c.owner.id,
      contour: c.floor.tag.slice(0, c.floor.tag.lastIndexOf('/')),
      walls: [c.floor.tag],
      enteringPart: c.plate.id,
      enteringEdges: [c.edge.tag],
      ...allowance,
    }),
  );
  return [...laps, ...housings];
}

/** A letter for each fit of a kind on one contour where there are several: a … z, then a1 … */
const letter = (i: number): string => String.fromCharCode(97 + (i % 26)) + (i < 26 ? '' : Math.floor(i / 26));

/** What is judged in a mate, from its contacts: walls in pairs or alone, ends in pairs or alone, seats. */
export function fitsOfMate(mate: MasterMate, contacts: MateContacts, allowances: JointAllowances): Fit[] {
  const unnamed = [
    ...thicknessFits(contacts.faces, allowances.thickness),
    ...endFits(contacts.edges, mate, allowances.ends),
    ...seatFits(contacts, mate, allowances.seat),
  ];
  const key = (f: { kind: FitKind; contour: string }) => `${mate.id}:${f.contour}:${f.kind}`;
  const count = new Map<string, number>();
  return unnamed.map((f) => {
    const k = key(f);
    const i = count.get(k) ?? 0;
    count.set(k, i + 1);
    const several = unnamed.filter((g) => key(g) === k).length > 1;
    return { id: several ? `${k}:${letter(i)}` : k, joint: mate.id, ...f };
  });
}
