import { inscribedWidth, ringArea, ringPerimeter, ringSegments } from '@haunch/geometry';
import { type Contour, fail, type Outcome, ok, type Pocket, tabsWanted } from '@haunch/model';
import { cutFromMiddle, enterCavity } from './cavity-cut.js';
import { chooseRouter } from './choose-router.js';
import { depthPasses } from './depth-passes.js';
import * as say from './diagnostics.js';
import { type FinishedPath, finishOf, withFinishing } from './finishing.js';
import { freeingWays, type Held, holdBy, waysOf } from './held-cut.js';
import type { SlottedOutline } from './open-slot.js';
import type { Operation } from './operation.js';
import type { Path } from './path.js';
import { type PlanContext, throughDepth, where } from './plan-context.js';
import { SEEN_CORNER } from './practice.js';
import { tabFigures } from './tab-places.js';

/** The outline of an item: cut round on the outside, left hanging on tabs. */
export function planOutline(c: PlanContext, { rest: contour, mouths }: SlottedOutline): Outcome<Operation> {
  const depth = throughDepth(c.board, c.machine);
  const chosen = chooseRouter(c, contour, 'outside', depth);
  if (!chosen.ok) return chosen;
  const { r, notes: said } = withFinishing(c, contour, chosen.value, 'outside', mouths);
  const notes = [...said];
  const depths = depthPasses(depth, r.cutter).depths;
  // Across the mouth of a slot there is nothing to stand on.
  const held = holdBy({ ...c, mating: new Set([...c.mating, ...mouths]) }, contour, r, depth, 'outside');
  const w = where(c, contour.id);
  if (!('entry' in held)) {
    if (held.found === null) return fail(say.noEntry(w));
    const figures = tabFigures(c.holding, r.cutter.diameter, depth - c.board.thickness + c.holding.tabHeight);
    const wanted = tabsWanted(c.holding, ringPerimeter(r.bare));
    return fail(say.noRoomForTabs(w, wanted, held.found, figures.lifted, figures.margin));
  }
  if (held.entry.onWall) notes.push(say.entryOnWall(w, held.entry.from));
  if (held.unsupported > 0)
    notes.push(say.tabOnNeighbour(w, held.unsupported, held.places.length, 2 * r.cutter.diameter + 1));
  if (held.atCorner) notes.push(say.tabAtSeenCorner(w, SEEN_CORNER));
  const base = {
    kind: 'outside profile' as const,
    item: c.placed.item,
    feature: contour.id,
    cutter: r.cutter,
    area: ringArea(r.bare),
    depths,
    slug: null,
    encloses: [],
  };
  return ok(heldCut(c, r, held, base), notes);
}

/** A cut round a loose piece: to its full depth, with tabs; or to a skin, and through it by a cut of its own. */
function heldCut(
  c: PlanContext,
  r: FinishedPath,
  held: Held,
  base: Omit<Operation, 'moves' | 'tabs'>,
): Operation {
  const { skin } = c.holding;
  if (skin === undefined) return { ...base, ...finishOf(r), ...waysOf(c, r, held, base.depths) };
  const through = base.depths.at(-1)!;
  const above = c.board.thickness - skin.thickness;
  const { depths } = depthPasses(above, r.cutter);
  const freeing: Operation = {
    ...base,
    ...finishOf(r),
    ...freeingWays(c, r, held, above, through),
    depths: [through],
    frees: true,
  };
  return { ...base, ...waysOf(c, r, held, depths), depths, freeing };
}

const usable = (edges: Path, mating: ReadonlySet<string>): boolean =>
  edges.some((s) => s.tag !== undefined && !mating.has(s.tag));

/** A cut through the sheet inside an item, with what becomes of the piece inside. */
export function planThrough(
  c: PlanContext,
  contour: Contour,
  kind: 'inside profile' | 'hole',
): Outcome<Operation> {
  const depth = throughDepth(c.board, c.machine);
  const chosen = chooseRouter(c, contour, 'inside', depth);
  if (!chosen.ok) return chosen;
  const { r, notes: said } = withFinishing(c, contour, chosen.value, 'inside');
  const { cutter } = r;
  const w = where(c, contour.id);
  const notes = [...said];
  const depths = depthPasses(depth, r.cutter).depths;
  const width = inscribedWidth(r.bare);
  const left = width - 2 * cutter.diameter;
  const encloses = c.enclosedBy(r.bare);
  const base = {
    kind,
    item: c.placed.item,
    feature: contour.id,
    cutter,
    area: ringArea(r.bare),
    depths,
    encloses,
  };
  let why: string | undefined;
  if (left > 0) {
    if (encloses.length === 0 && left < c.holding.clearSlugsBelow)
      why = `it is narrower than ${c.holding.clearSlugsBelow} mm`;
    else {
      const held = usable(ringSegments(r.bare), c.mating)
        ? holdBy(c, contour, r, depth, 'inside')
        : undefined;
      if (held !== undefined && 'entry' in held && !(held.entry.onWall && encloses.length === 0)) {
        if (held.entry.onWall) notes.push(say.entryOnWall(w, held.entry.from));
        return ok(heldCut(c, r, held, { ...base, slug: 'held' }), notes);
      }
      if (encloses.length > 0) {
        const figures = tabFigures(
          c.holding,
          cutter.diameter,
          depth - c.board.thickness + c.holding.tabHeight,
        );
        const wanted = tabsWanted(c.holding, ringPerimeter(r.bare));
        const found = held !== undefined && 'found' in held ? (held.found ?? 0) : 0;
        return fail(say.noRoomForTabs(w, wanted, found, figures.lifted, figures.margin));
      }
      why = 'no edge has room for its tabs';
    }
  }
  const cut = enterCavity(c, contour, r);
  if (cut === undefined) return fail(say.noEntry(w));
  if (why !== undefined) notes.push(say.slugToChips(w, left, why));
  return ok(
    {
      ...base,
      ...finishOf(r),
      ...cutFromMiddle(c, r, cut, depths),
      slug: why === undefined ? 'none' : 'cut to chips',
    },
    notes,
  );
}

/** A pocket of constant depth below the sheet's top, cleared from its middle outwards. */
export function planPocket(c: PlanContext, pocket: Pocket, kind: 'pocket' | 'hole'): Outcome<Operation> {
  const w = where(c, pocket.id);
  if (pocket.face !== c.placed.part.cutFace) return fail(say.needsTurnOver(w, pocket.bare.vertices[0]));
  if (pocket.depth >= c.board.thickness) return fail(say.tooDeep(w, pocket.depth, c.board.thickness));
  const chosen = chooseRouter(c, pocket, 'inside', pocket.depth);
  if (!chosen.ok) return chosen;
  const { r, notes } = withFinishing(c, pocket, chosen.value, 'inside');
  const depths = depthPasses(pocket.depth, r.cutter).depths;
  const cut = enterCavity(c, pocket, r);
  if (cut === undefined) return fail(say.noEntry(w));
  return ok(
    {
      kind,
      item: c.placed.item,
      feature: pocket.id,
      cutter: r.cutter,
      area: ringArea(r.bare),
      depths,
      ...finishOf(r),
      ...cutFromMiddle(c, r, cut, depths),
      slug: null,
      encloses: [],
    },
    notes,
  );
}
