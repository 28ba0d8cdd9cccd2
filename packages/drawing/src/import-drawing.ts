import type { Diagnostic, Part } from '@haunch/model';
import type { Drawing, DrawingUnit } from './drawing.js';
import { type Account, type LeftOut, openAccount, type Unclear } from './parts/account.js';
import { collectLoops } from './parts/collect-loops.js';
import { cutsOfOtherLayers } from './parts/cuts-of-other-layers.js';
import {
  engravingLeftOut,
  gapsLeftOut,
  noParts,
  partLimit,
  pocketRead,
  pocketTooDeep,
  renamedPart,
  strayFeature,
} from './parts/diagnostics.js';
import { findPlates, type Plate } from './parts/find-plates.js';
import { gapLoops } from './parts/gap-loops.js';
import type { LayerRules } from './parts/layer-rules.js';
import { linesToRead } from './parts/lines-to-read.js';
import { type Loop, loopEntity } from './parts/loop.js';
import { mendLoop } from './parts/mend-loop.js';
import { withoutDoubledLoops } from './parts/near-doubles.js';
import { reportOpenRuns } from './parts/open-contours.js';
import { type PartFamily, partFamilies } from './parts/part-families.js';
import { partId } from './parts/part-ids.js';
import { firstLine } from './parts/part-layers.js';
import { partNames } from './parts/part-names.js';
import { partOfPlate } from './parts/part-of-plate.js';
import { ownerOf, partRecesses, type Recess } from './parts/recesses.js';
import { withReliefCircles } from './parts/relief-circles.js';
import type { Repair } from './parts/repair.js';
import { repairNotes } from './parts/repair-notes.js';
import { soundLoops } from './parts/sound-loops.js';
import { TooTangled } from './parts/too-tangled.js';
import { thicknessSupport } from './thickness-support.js';

/** How parts are to be found. */
export interface FindPartsOptions {
  /** Thickness of the plates, mm, where the drawing itself states none (group 39 of an outline). */
  readonly thickness?: number;
  /** Ends that are still open after joining at 0.01 mm are joined up to this distance, mm. If not given: 0.1, and a
   * contour's own ends up to 0.5 where that is below 1/2000 of its length. */
  readonly joinWithin?: number;
  /** True to read layers that are off or frozen as well. */
  readonly hiddenLayers?: boolean;
  /** What layers hold, by name; other layers are read by what is drawn on them. */
  readonly layers?: LayerRules;
  /** Ids of repairs, or kinds of them, that are not to be made: what was drawn stays as it is. */
  readonly keep?: readonly string[];
  /** How far a corner may be from an arc that is recovered from chords, mm; 0.01 if not given. */
  readonly arcsWithin?: number;
}

/**
 * What a drawing was read as: its parts, and everything in which that differs from what is drawn. Plain data; the
 * parts are those that were understood, even where a diagnostic is an error.
 */
export interface DrawingImport {
  readonly kind: 'import';
  readonly file: string;
  readonly unit: DrawingUnit;
  readonly parts: readonly Part[];
  /** Which parts are the same. */
  readonly families: readonly PartFamily[];
  readonly repairs: readonly Repair[];
  /** Repairs that were not made, as was asked. */
  readonly kept: readonly Repair[];
  readonly leftOut: readonly LeftOut[];
  readonly unclear: readonly Unclear[];
  readonly diagnostics: readonly Diagnostic[];
}

/** Arcs pass the corners of their chords, and stand off them, this closely unless told otherwise, mm. */
const ARCS = { within: 0.01, standOff: 0.25 } as const;
/** What is beyond this is no drawing of parts. */
const LIMITS = { lines: 1_000_000, loops: 100_000, depth: 64 } as const;
/** Splines that bound engraving are many; a few may as well be cut. */
const ENGRAVED = 8;

/**
 * Finds the flat parts in a drawing and says what was repaired: curves are followed by lines and arcs, loose
 * segments chained, repetitions removed, common edges given to both neighbours, chords turned back into arcs;
 * closed curves are nested; an even depth is an outline, an odd one a through cut or a round hole; curves below the
 * drawing plane, on a layer that ends in `.pocket`, `.hole` or `.under`, or on one with a rule, are recesses. The
 * drawing is seen from the cut face, n+. Contours are counter-clockwise, their edges tagged `<contour>/e0` …; every
 * part carries the lines it was read from. Never throws on a drawing.
 * @throws RangeError when an option is not positive and finite.
 */
export function importDrawing(drawing: Drawing, options: FindPartsOptions = {}): DrawingImport {
  checkOptions(options);
  const account = openAccount(drawing.file, options.keep ?? []);
  try {
    return importWith(drawing, options, account);
  } catch (error) {
    if (!(error instanceof TooTangled)) throw error;
    account.diagnostics.push(partLimit(drawing.file, error.message));
    const { file, unit } = drawing;
    const { diagnostics, leftOut, unclear } = account;
    return {
      kind: 'import',
      file,
      unit,
      parts: [],
      families: [],
      repairs: [],
      kept: [],
      leftOut,
      unclear,
      diagnostics,
    };
  }
}

function importWith(drawing: Drawing, options: FindPartsOptions, account: Account): DrawingImport {
  const { file } = drawing;
  const { diagnostics, book } = account;
  const result = (parts: readonly Part[]): DrawingImport => ({
    kind: 'import',
    file,
    unit: drawing.unit,
    parts,
    families: partFamilies(parts),
    repairs: book.done(),
    kept: book.kept(),
    leftOut: account.leftOut,
    unclear: account.unclear,
    diagnostics,
  });

  const { lines, texts, rules } = linesToRead(
    drawing,
    { hiddenLayers: options.hiddenLayers === true, layers: options.layers ?? {} },
    account,
  );
  if (lines.length > LIMITS.lines) {
    diagnostics.push(partLimit(file, `${lines.length} lines, where ${LIMITS.lines} are the most`));
    return result([]);
  }
  const collected = collectLoops(lines, options.joinWithin ?? null, book);
  if (collected.loops.length > LIMITS.loops) {
    diagnostics.push(
      partLimit(file, `${collected.loops.length} contours, where ${LIMITS.loops} are the most`),
    );
    return result([]);
  }
  const once = withoutRepeated(collected.loops, book);
  const loops = soundLoops(once, account);
  reportOpenRuns(collected.open, loops, account);
  const split = partRecesses(loops, rules, file);
  diagnostics.push(...split.diagnostics);
  if (split.flat.length === 0) {
    if (texts.length > 0) account.leaveOut('lettering', texts);
    diagnostics.push(...repairNotes(book, file));
    if (!diagnostics.some((d) => d.level === 'error')) diagnostics.push(noParts(file));
    return result([]);
  }

  const found = findPlates(withReliefCircles(split.flat, account), account);
  const deepest = found.reduce((most, p) => Math.max(most, p.depth), 0);
  if (deepest >= LIMITS.depth) {
    diagnostics.push(partLimit(file, `contours lie more than ${LIMITS.depth} deep in each other`));
    return result([]);
  }
  const cleared = withoutGaps(found, options.thickness ?? null, account);
  const sorted = cleared.map((p) => withoutEngraving(p, account));
  const mendOne = (l: Loop): Loop =>
    mendLoop(l, { within: options.arcsWithin ?? ARCS.within, standOff: ARCS.standOff }, book);
  const plates = sorted.map((p) => ({ ...p, outline: mendOne(p.outline), cuts: p.cuts.map(mendOne) }));
  const outlines = plates.map((p) => p.outline);
  const recesses: Recess[][] = plates.map(() => []);
  for (const r of split.recesses) {
    const owner = ownerOf(r, outlines);
    if (owner >= 0) recesses[owner]!.push({ ...r, loop: mendOne(r.loop) });
    else {
      diagnostics.push(strayFeature(file, loopEntity(r.loop), r.loop.layer));
      account.leaveOut('recess in no part', r.loop.entities);
    }
  }
  diagnostics.push(...cutsOfOtherLayers(plates, rules, file));
  diagnostics.push(...repairNotes(book, file));
  const { names, unused } = partNames(outlines, texts);
  if (unused.length > 0) account.leaveOut('lettering', unused);
  const ids = idsOf(outlines, file, diagnostics);
  const parts = plates.map((p, i) =>
    partOfPlate(ids[i]!, names[i]!, p, recesses[i]!, options.thickness ?? null),
  );
  parts.forEach((p, i) => {
    diagnostics.push(...recessNotes(p.id, recesses[i]!, file), ...tooDeepNotes(p, recesses[i]!, file));
  });
  return result(parts);
}

function checkOptions(options: FindPartsOptions): void {
  for (const name of ['thickness', 'joinWithin', 'arcsWithin'] as const) {
    const v = options[name];
    if (v !== undefined && !(v > 0 && v < Infinity))
      throw new RangeError(`findParts: ${name} ${v} must be positive`);
  }
  for (const [layer, rule] of Object.entries(options.layers ?? {}))
    if ('depth' in rule && !(rule.depth > 0 && rule.depth < Infinity))
      throw new RangeError(`findParts: depth ${rule.depth} of layer ${layer} must be positive`);
}

const withoutRepeated = (loops: readonly Loop[], book: Account['book']): Loop[] =>
  // A recess may have the same outline as another at another height; only true repetitions go.
  withoutDoubledLoops(loops, (a, b) => a.layer === b.layer && a.elevation === b.elevation, book);

/** Plates without those that are only the air between neighbours which share their edges. */
function withoutGaps(plates: readonly Plate[], thickness: number | null, account: Account): readonly Plate[] {
  if (!account.book.done().some((r) => r.kind === 'shared')) return plates;
  const likely =
    thickness ??
    thicknessSupport(plates.map((p, i) => partOfPlate(`P-${i + 1}`, null, p, [], null)))[0]?.value;
  if (likely === undefined) return plates;
  const gaps = gapLoops(
    plates.map((p) => p.outline),
    likely,
  ).map((i) => plates[i]!);
  const left = gaps.filter((p) =>
    account.book.mend('gap', p.outline.ring.vertices[0]!, p.outline.entities, 0, () => ({
      before: [{ vertices: p.outline.ring.vertices, closed: true }],
      after: [],
    })),
  );
  if (left.length === 0) return plates;
  const first = left.reduce((a, b) => (firstLine(b.outline) < firstLine(a.outline) ? b : a));
  account.diagnostics.push(
    gapsLeftOut(
      account.file,
      { count: left.length, first: loopEntity(first.outline) },
      first.outline.ring.vertices[0]!,
      likely,
    ),
  );
  const gone = new Set(left);
  return plates.filter((p) => !gone.has(p));
}

/** A plate without closed curves that look like a picture on it: many, and drawn with splines for the most part. */
function withoutEngraving(plate: Plate, account: Account): Plate {
  const isDrawn = (l: Loop): boolean =>
    2 * l.entities.filter((e) => e.followed === 'spline').length >= l.entities.length;
  if (isDrawn(plate.outline)) return plate;
  const drawn = plate.cuts.filter(isDrawn);
  if (drawn.length < ENGRAVED) return plate;
  const left = new Set(
    drawn.filter((l) =>
      account.book.mend('engraving', l.ring.vertices[0]!, l.entities, 0, () => ({
        before: [{ vertices: l.ring.vertices, closed: true }],
        after: [],
      })),
    ),
  );
  if (left.size === 0) return plate;
  const [first] = [...left];
  account.diagnostics.push(
    engravingLeftOut(account.file, { count: left.size, first: loopEntity(first!) }, first!.ring.vertices[0]!),
  );
  return { ...plate, cuts: plate.cuts.filter((l) => !left.has(l)) };
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

const shapeOf = (r: Recess): 'pocket' | 'blind hole' => (r.loop.circle === null ? 'pocket' : 'blind hole');

/** Recesses that leave nothing of their part's thickness. */
const tooDeepNotes = ({ id, thickness }: Part, recesses: readonly Recess[], file: string): Diagnostic[] =>
  recesses.flatMap((r) =>
    thickness !== null && r.depth >= thickness
      ? [pocketTooDeep(file, loopEntity(r.loop), id, shapeOf(r), r.depth, thickness)]
      : [],
  );

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
    return pocketRead(file, loopEntity(r.loop), part, list.length, shapeOf(r), r.depth, r.saidBy);
  });
}
