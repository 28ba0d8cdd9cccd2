import {
  type Contour,
  type Diagnostic,
  type Locus,
  type Master,
  type MasterLoop,
  type MasterPart,
  type Outcome,
  type Part,
  settle,
} from '@haunch/model';
import { contourWithClearance, type Setbacks, setbacksOf } from './clearance.js';
import { cutsMeet, tooDeep } from './diagnostics.js';
import type { Contact, Joinery } from './joinery.js';
import { meetingCuts } from './loop-problems.js';
import { outlineId, partOfMaster } from './parts-of-master.js';
import { floorTag } from './plate.js';
import { type ReliefOptions, relievePart } from './relieve-part.js';

function withClearance(p: MasterPart, setbacks: Setbacks, problems: Diagnostic[]): Part {
  const part = partOfMaster(p);
  const place = (feature: string): Locus => ({ part: p.id, feature });
  const contour = (id: string, loop: MasterLoop, bounds: 'material' | 'air'): Contour =>
    contourWithClearance(id, loop, bounds, setbacks, place(id), problems);
  const outline = contour(outlineId(p.id), p.outline, 'material');
  const through = p.through.map((c) => contour(c.id, c.loop, 'air'));
  const pockets = p.pockets.map((c) => {
    const depth = c.depth + (setbacks.get(floorTag(c.id)) ?? 0);
    if (depth >= p.thickness) problems.push(tooDeep(depth, p.thickness, place(c.id)));
    return { ...contour(c.id, c.loop, 'air'), face: c.face, depth };
  });
  if (problems.length === 0)
    for (const m of meetingCuts(
      { id: outline.id, ring: outline.bare },
      through.map((c) => ({ id: c.id, ring: c.bare })),
    ))
      problems.push(cutsMeet(m.cut, m.other, { ...place(m.cut), at: m.at }));
  return { ...part, outline, through, pockets };
}

/**
 * The parts as they are to be cut, in (u, v), mm: every wall of a fit goes back into its own material (each of
 * two walls by half the wanted clearance, one alone by all that it wants, the floor of a pocket by getting
 * deeper; where a plate leans, by as much more as leaves the clearance square to its faces), neighbours are met again, and inside corners that a square arris must reach are relieved; corners
 * that nothing reaches stay sharp. The entering parts stay as they are. Edges keep their tags; reliefs add
 * arcs tagged `<contour>/r<k>` to `ring`, while `bare` stays without them. Coordinates are on the grid of
 * 0.0001 mm. A corner that cannot be relieved is a warning with how far the plate would stand proud; a wall
 * that has no room to give way is an error.
 * @throws RangeError when the relief's radius is not positive or its surplus is not in 0 … radius.
 */
export function fitParts(
  master: Master,
  joinery: Joinery,
  { relief }: { readonly relief: ReliefOptions | null },
): Outcome<Part[]> {
  if (relief && !(relief.radius > 0 && relief.surplus >= 0 && relief.surplus < relief.radius))
    throw new RangeError(`fitParts: relief with radius ${relief.radius} and surplus ${relief.surplus}`);
  const setbacks = setbacksOf(joinery, {
    thicknesses: new Map(master.parts.map((p) => [p.id, p.thickness])),
    heights: new Map(
      master.parts.flatMap((p) => [
        ...[outlineId(p.id), ...p.through.map((c) => c.id)].map((id) => [id, p.thickness] as const),
        ...p.pockets.map((c) => [c.id, c.depth] as const),
      ]),
    ),
  });
  const byPart = new Map<string, Contact[]>();
  for (const c of joinery.contacts) byPart.set(c.part, [...(byPart.get(c.part) ?? []), c]);
  const diagnostics: Diagnostic[] = [];
  const parts = master.parts.map((p) => {
    const own: Diagnostic[] = [];
    let part = withClearance(p, setbacks, own);
    if (own.length === 0 && relief) part = relievePart(part, byPart.get(p.id) ?? [], setbacks, relief, own);
    diagnostics.push(...own);
    return part;
  });
  return settle(parts, diagnostics);
}
