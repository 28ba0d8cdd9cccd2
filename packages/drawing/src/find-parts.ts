import { snap } from '@haunch/geometry';
import { type Diagnostic, type Hole, type Outcome, type Part, type Pocket, settle } from '@haunch/model';
import { FOLLOW, plainEntities } from './curves/plain-entities.js';
import {
  byLayerRead,
  crossingCurves,
  doubledLines,
  filledAreas,
  hiddenLayer,
  noParts,
  noSize,
  notFollowed,
  pocketRead,
  pointsLeftOut,
  renamedPart,
  selfCrossing,
  selfTouching,
  sheetBorder,
  strayFeature,
} from './diagnostics.js';
import type { Drawing, Entity, TextEntity } from './drawing.js';
import { collectLoops, JOIN } from './parts/collect-loops.js';
import { contourOfRing, fromLoop } from './parts/contour-of-loop.js';
import { type Loop, loopEntity, loopKey } from './parts/loop.js';
import { nestLoops } from './parts/nest-loops.js';
import { openContourDiagnostics } from './parts/open-contours.js';
import { partId } from './parts/part-ids.js';
import { firstLine, groupLoops, type LoopGroup, withoutBorder } from './parts/part-layers.js';
import { partNames } from './parts/part-names.js';
import { ownerOf, partRecesses, type Recess } from './parts/recesses.js';
import { selfContact } from './parts/self-crossing.js';

/** How parts are to be found. */
export interface FindPartsOptions {
  /** Thickness of the plates, mm, where the drawing itself states none (group 39 of an outline). */
  readonly thickness?: number;
  /** Ends that are still open after joining at 0.01 mm are joined up to this distance, mm. */
  readonly joinWithin?: number;
  /** True to read layers that are off or frozen as well. */
  readonly hiddenLayers?: boolean;
}

/** An outline with the loops cut out of it. */
interface Plate {
  readonly outline: Loop;
  readonly cuts: readonly Loop[];
}

const LISTED = 10;
/** A closed curve that encloses no more than this, mm², is a line drawn there and back. */
const EMPTY = 1e-4;

/**
 * Finds the flat parts in a drawing: ellipses and splines are followed by lines and arcs within 0.01 mm, loose segments are chained, closed curves nested; an even depth is an
 * outline, an odd one a through cut or a round hole; curves below the drawing plane or on a layer that ends in
 * `.pocket`, `.hole` or `.under` are recesses. The drawing is seen from the cut face, n+. Contours are
 * counter-clockwise, their edges tagged `<contour>/e0` …; every part carries the lines it was read from.
 * @throws RangeError when an option is not positive and finite.
 */
export function findParts(drawing: Drawing, options: FindPartsOptions = {}): Outcome<Part[]> {
  for (const name of ['thickness', 'joinWithin'] as const) {
    const v = options[name];
    if (v !== undefined && !(v > 0 && v < Infinity))
      throw new RangeError(`findParts: ${name} ${v} must be positive`);
  }
  const { file } = drawing;
  const { entities, diagnostics } = visibleEntities(drawing, options.hiddenLayers === true);
  const texts = entities.filter((e): e is TextEntity => e.kind === 'text');
  const points = entities.filter((e) => e.kind === 'point');
  if (points.length > 0) diagnostics.push(pointsLeftOut(file, { count: points.length, first: points[0]! }));

  const followed = plainEntities(entities);
  for (const e of followed.notFollowed.slice(0, LISTED))
    diagnostics.push(notFollowed(file, e, e.kind, FOLLOW));
  const lines = withoutFills(followed.entities, file, diagnostics);
  const collected = collectLoops(lines, options.joinWithin ?? JOIN, file);
  diagnostics.push(...collected.diagnostics);
  const loops = soundLoops(collected.loops, file, diagnostics);
  diagnostics.push(...openContourDiagnostics(collected.open, loops, file));
  const split = partRecesses(loops, file);
  diagnostics.push(...split.diagnostics);
  if (split.flat.length === 0) {
    if (!diagnostics.some((d) => d.level === 'error')) diagnostics.push(noParts(file));
    return { ok: false, diagnostics };
  }

  const plates = findPlates(split.flat, file, diagnostics);
  const outlines = plates.map((p) => p.outline);
  const recesses: Recess[][] = plates.map(() => []);
  for (const r of split.recesses) {
    const owner = ownerOf(r, outlines);
    if (owner >= 0) recesses[owner]!.push(r);
    else diagnostics.push(strayFeature(file, loopEntity(r.loop), r.loop.layer));
  }
  const names = partNames(outlines, texts);
  const ids = idsOf(outlines, file, diagnostics);
  const parts = plates.map((p, i) => partOf(ids[i]!, names[i]!, p, recesses[i]!, options.thickness ?? null));
  parts.forEach((p, i) => {
    diagnostics.push(...recessNotes(p.id, recesses[i]!, file));
  });
  return settle(parts, diagnostics);
}

/**
 * Entities without those that bound filled areas, which only show what other lines bound. Where nothing else is
 * drawn they are the contours.
 */
function withoutFills(
  entities: readonly Entity[],
  file: string,
  diagnostics: Diagnostic[],
): readonly Entity[] {
  const fills = entities.filter((e) => e.filled !== undefined);
  if (fills.length === 0) return entities;
  const lines = entities.filter((e) => e.filled === undefined);
  const taken = lines.every((e) => e.kind === 'text' || e.kind === 'point');
  for (const type of new Set(fills.map((e) => e.filled!))) {
    const own = fills.filter((e) => e.filled === type);
    diagnostics.push(filledAreas(file, type, { count: own.length, first: own[0]! }, taken));
  }
  return taken ? entities : lines;
}

function visibleEntities(
  drawing: Drawing,
  all: boolean,
): { entities: readonly Entity[]; diagnostics: Diagnostic[] } {
  if (all) return { entities: drawing.entities, diagnostics: [] };
  const hidden = new Map(drawing.layers.filter((l) => l.off || l.frozen).map((l) => [l.name, 0]));
  const entities = drawing.entities.filter((e) => {
    const layer = e.hiddenBy ?? e.layer;
    const count = hidden.get(layer);
    if (count === undefined) return true;
    hidden.set(layer, count + 1);
    return false;
  });
  const diagnostics = [...hidden]
    .filter(([, n]) => n > 0)
    .map(([layer, n]) => hiddenLayer(drawing.file, layer, n));
  return { entities, diagnostics };
}

/** Loops that enclose something and do not cross themselves; the others are reported. */
function soundLoops(loops: readonly Loop[], file: string, diagnostics: Diagnostic[]): Loop[] {
  const empty: Entity[] = [];
  let listed = 0;
  const sound = loops.filter((l) => {
    const contact = l.circle === null ? selfContact(l.ring) : null;
    if (contact !== null && listed < LISTED) {
      listed++;
      const say = contact.kind === 'crosses' ? selfCrossing : selfTouching;
      diagnostics.push(say(file, loopEntity(l), contact.at));
    }
    if (contact?.kind === 'crosses') return false;
    if (l.area <= EMPTY) empty.push(loopEntity(l));
    return l.area > EMPTY;
  });
  if (empty.length > 0) diagnostics.push(noSize(file, 'closed', { count: empty.length, first: empty[0]! }));
  return sound;
}

/** Outlines with their cuts, in the order in which parts are listed. */
function findPlates(flat: readonly Loop[], file: string, diagnostics: Diagnostic[]): Plate[] {
  const { groups, byLayer } = groupLoops(flat);
  if (byLayer === 'covering') diagnostics.push(byLayerRead(file, groups.length));
  const plates: Plate[] = [];
  for (const g of groups) {
    const { group, border } = withoutBorder(byLayer !== null ? g : withoutCopies(g, file, diagnostics));
    if (border !== null) diagnostics.push(sheetBorder(file, loopEntity(border)));
    for (const { a, b, at } of group.nesting.across.slice(0, LISTED))
      diagnostics.push(crossingCurves(file, loopEntity(group.loops[a]!), firstLine(group.loops[b]!), at));
    group.nesting.depth.forEach((d, i) => {
      if (d % 2 !== 0) return;
      const cuts = group.loops.filter(
        (_, j) => group.nesting.parent[j] === i && group.nesting.depth[j] === d + 1,
      );
      plates.push({ outline: group.loops[i]!, cuts: [...cuts].sort((p, q) => firstLine(p) - firstLine(q)) });
    });
  }
  const ownLayers = new Set(plates.map((p) => p.outline.layer)).size === plates.length;
  return plates.sort(
    (p, q) =>
      (ownLayers
        ? 0
        : q.outline.bounds.maxY - p.outline.bounds.maxY || p.outline.bounds.minX - q.outline.bounds.minX) ||
      firstLine(p.outline) - firstLine(q.outline),
  );
}

/** A group without curves that stand on a second layer as well. */
function withoutCopies(g: LoopGroup, file: string, diagnostics: Diagnostic[]): LoopGroup {
  const seen = new Set<string>();
  const copies: Loop[] = [];
  const loops = g.loops.filter((l) => {
    const key = loopKey(l);
    if (seen.has(key)) copies.push(l);
    else {
      seen.add(key);
      return true;
    }
    return false;
  });
  if (copies.length === 0) return g;
  const first = loopEntity(copies[0]!);
  diagnostics.push(doubledLines(file, { count: copies.length, first }, copies[0]!.ring.vertices[0]!));
  return { loops, nesting: nestLoops(loops) };
}

function idsOf(outlines: readonly Loop[], file: string, diagnostics: Diagnostic[]): string[] {
  const ownLayers = new Set(outlines.map((o) => o.layer)).size === outlines.length;
  if (!ownLayers || (outlines.length === 1 && outlines[0]!.layer === '0'))
    return outlines.map((_, i) => `P-${i + 1}`);
  const taken = new Set<string>();
  return outlines.map((o) => {
    const id = partId(o.layer, taken);
    taken.add(id);
    if (id !== o.layer) diagnostics.push(renamedPart(file, loopEntity(o), id, o.layer));
    return id;
  });
}

function partOf(
  id: string,
  name: string | null,
  plate: Plate,
  recesses: readonly Recess[],
  thickness: number | null,
): Part {
  const through = plate.cuts.filter((l) => l.circle === null);
  const round = plate.cuts.filter((l) => l.circle !== null);
  const blind = recesses.filter((r) => r.loop.circle !== null);
  const housed = recesses.filter((r) => r.loop.circle === null);
  const holes: Hole[] = [
    ...round.map((l) => ({ circle: l.circle!, face: 'n+' as const, depth: 'through' as const })),
    ...blind.map((r) => ({ circle: r.loop.circle!, face: r.face, depth: r.depth })),
  ].map((h, k) => ({
    id: `${id}.h${k + 1}`,
    centre: h.circle.centre,
    diameter: snap(2 * h.circle.radius),
    face: h.face,
    depth: h.depth,
  }));
  const pockets: Pocket[] = housed.map((r, k) => ({
    ...contourOfRing(`${id}.p${k + 1}`, r.loop.ring),
    face: r.face,
    depth: r.depth,
  }));
  const stated = plate.outline.elevation >= 0 ? plate.outline.depth : 0;
  return {
    kind: 'part',
    id,
    name: name ?? id,
    thickness: stated > 0 ? stated : thickness,
    grain: null,
    cutFace: 'n+',
    showFace: null,
    stock: null,
    outline: contourOfRing(id, plate.outline.ring),
    through: through.map((l, k) => contourOfRing(`${id}.c${k + 1}`, l.ring)),
    pockets,
    holes,
    from: [plate.outline, ...plate.cuts, ...recesses.map((r) => r.loop)].flatMap(fromLoop),
  };
}

/** One note for all recesses of a part that are alike. */
function recessNotes(part: string, recesses: readonly Recess[], file: string): Diagnostic[] {
  const alike = new Map<string, Recess[]>();
  for (const r of recesses) {
    const key = `${r.loop.circle === null ? 'recess' : 'blind hole'}|${r.depth}|${r.saidBy ?? ''}`;
    const list = alike.get(key);
    if (list === undefined) alike.set(key, [r]);
    else list.push(r);
  }
  return [...alike.values()].map((list) => {
    const r = list[0]!;
    const what = r.loop.circle === null ? 'pocket' : 'blind hole';
    return pocketRead(file, loopEntity(r.loop), part, list.length, what, r.depth, r.saidBy);
  });
}
