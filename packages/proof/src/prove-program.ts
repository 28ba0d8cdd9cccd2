import { flattenRing } from '@haunch/geometry';
import {
  type AsCutPart,
  type Cutter,
  fail,
  type Outcome,
  ok,
  type Proof,
  type RuleResult,
  tabsWanted,
} from '@haunch/model';
import { type NcReading, readProgram } from '@haunch/nc/read';
import { type AsCutBoard, keepField, makeField } from './as-cut-board.js';
import { attachmentOf, kerfOf, LEAST_HEIGHT } from './bridges.js';
import { manyDepths, noCutters, noItems, nothingToProve, shapesRefused } from './diagnostics.js';
import { HEIGHT_ROUNDING } from './height-rounding.js';
import { jointsOn, judgeJoints } from './joints/judge-joints.js';
import { judgeItem } from './judge-item.js';
import type { HeldItem, Judgement, Slug } from './judgement.js';
import { originsOf } from './origins.js';
import { placeFinder } from './place-finder.js';
import type { ProgramLines } from './program-lines.js';
import type { Proved, ProveInput } from './prove-input.js';
import { RULES } from './rules/all-rules.js';
import { applyRule } from './rules/rule.js';
import { programSeconds } from './run-time.js';
import { loosePieces, slugPieces } from './slugs.js';
import { findStretches } from './sweep/find-stretches.js';
import { CLEARING_TOLERANCE, fineNear } from './sweep/fineness.js';
import { findLevels } from './sweep/level.js';
import { lowest, type Stretch, withinReason } from './sweep/stretch.js';
import { makeSweeper } from './sweep/sweeper.js';
import { trackBelow } from './sweep/track.js';
import { type WantedContour, wantedContours } from './wanted/wanted-contour.js';

/** How far an edge or a floor may be off when nobody says otherwise, mm. Ours: a tenth of the fit's window of 0.1 mm. */
const TOLERANCE = 0.01;
/** Depths are told apart to this before anything is said of it, mm. */
export const FINEST = 0.002;
/** Tabs are taken to end this far above their height at most, mm. */
const TAB_SPARE = 0.05;

/** The cutter taken because a text names no tool and only one is described. */
export const unnamedCutter = (reading: NcReading, cutters: readonly Cutter[]): Cutter | null =>
  cutters.length === 1 && reading.moves.every((m) => !('tool' in m) || m.tool === null) ? cutters[0]! : null;

/** All that the rules ask, of one program, or of several whose motions are given. */
export function judge(
  input: ProveInput,
  reading: NcReading,
  several?: {
    readonly stretches: readonly Stretch[];
    readonly assumed: Cutter | null;
    readonly programs: readonly ProgramLines[];
  },
): { readonly judgement: Judgement; readonly step: number } {
  const { board, machine, cutters, holding, clip, items, joints, thicknesses, tolerance = TOLERANCE } = input;
  const top = machine.zZero === 'top' ? 0 : board.thickness;
  const bottom = top - board.thickness;
  const safe = top + machine.clearance - HEIGHT_ROUNDING;
  const assumed = several ? several.assumed : unnamedCutter(reading, cutters);
  const stretches =
    several?.stretches ??
    findStretches(reading, { cutters, safe, only: assumed, distortion: machine.distortion });
  const cutting = stretches.filter((s) => lowest(s) < top && withinReason(s));
  const tabTop = bottom + holding.tabHeight + TAB_SPARE;
  const floors = items.flatMap(({ part }) => [
    ...part.pockets.map((p) => top - p.depth),
    ...part.holes.flatMap((h) => (h.depth === 'through' ? [] : [top - h.depth])),
  ]);
  const { levels, step } = findLevels(stretches, { top, bottom, heights: floors });
  const field = makeField(cutting, { top, levels });
  const radii = [...new Set(cutting.filter((s) => !s.drill && s.radius > 0).map((s) => s.radius))];
  const usual = radii.length > 0 ? radii : cutters.map((c) => c.diameter / 2);
  const leastRadius = Math.min(...usual);
  const mostRadius = Math.max(...usual);
  const walls = items.flatMap(({ part }) => wantedContours(part, top).flatMap((c) => c.segments));
  const sweeper = makeSweeper(clip, fineNear(walls, mostRadius));
  const patches = levels.map((l) => sweeper.sweep(field.at(l.at).tracks));
  const boardPolygon = flattenRing(board.outline, { tolerance: 0.005 });
  const judged = items.map((item) =>
    judgeItem({
      clip,
      item,
      levels,
      patches,
      field,
      top,
      tabTop,
      radius: leastRadius,
      tolerance,
      ...(input.edgeTolerances === undefined ? {} : { edges: input.edgeTolerances }),
      board: boardPolygon,
    }),
  );
  const asCut: AsCutBoard = {
    kind: 'as-cut board',
    board: board.id,
    top,
    bottom,
    levels,
    items: judged.map((i) => i.asCut),
    stretches: cutting,
    ...(several ? { programs: several.programs } : {}),
  };
  keepField(asCut, field);
  const halfTab = bottom + LEAST_HEIGHT * holding.tabHeight;
  // What hangs together is a coarser question than where a wall is.
  const coarse = makeSweeper(clip, () => CLEARING_TOLERANCE);
  const atTabs = coarse.sweep(cutting.flatMap((s) => trackBelow(s, halfTab) ?? []));
  const underside = coarse.sweep(field.at(levels[0]!.at).tracks);
  const kerf = (contour: WantedContour, patches = atTabs) =>
    kerfOf({
      clip,
      contour,
      patches,
      least: leastRadius,
      most: mostRadius,
      holding,
      board: boardPolygon,
    });
  const held = judged.map(
    (i): HeldItem => ({
      judged: i,
      kerf: kerf(i.contours[0]!),
      under: kerf(i.contours[0]!, underside),
      slugs: i.contours.slice(1).flatMap((c): Slug[] => {
        if (c.floor !== null) return [];
        const loose = loosePieces(clip, c, underside);
        const left = [...loose, ...slugPieces(clip, c, underside, 2 * leastRadius)];
        return left.length === 0 ? [] : [{ kerf: kerf(c), under: kerf(c, underside), left, loose }];
      }),
    }),
  );
  const judgement: Judgement = {
    input,
    reading,
    stretches,
    assumed,
    top,
    bottom,
    safe,
    tolerance,
    levels,
    field,
    boardPolygon,
    items: held,
    attachment: attachmentOf(
      clip,
      boardPolygon,
      atTabs,
      held.map((h) => ({ item: h.judged.item.item, kerf: h.kerf })),
    ),
    place: placeFinder(items, joints, top),
    asCut,
    joints: judgeJoints(jointsOn(joints, asCut), [asCut], thicknesses),
    leastRadius,
    mostRadius,
  };
  return { judgement, step };
}

const partOf = (j: Judgement, { judged, kerf }: HeldItem): AsCutPart => ({
  item: judged.item.item,
  cut: judged.cut,
  outlines: judged.piece === null ? [] : [judged.piece.outer, ...judged.piece.holes],
  gouge: judged.gouge,
  excess: judged.excess,
  tabs: kerf.strong.filter((b) => j.attachment.anchored(judged.item.item, b)).length,
  tabsWanted: tabsWanted(j.input.holding, kerf.perimeter),
});

/** The proof of a judgement with what the rules say of it. */
export const proofOf = (j: Judgement, rules: readonly RuleResult[]): Proof => ({
  kind: 'proof',
  board: j.input.board.id,
  pass: rules.every((r) => r.verdict !== 'fail'),
  rules,
  parts: j.items.map((i) => partOf(j, i)),
  joints: j.joints,
  blocks: j.reading.blocks,
  seconds: programSeconds(j.reading, j.stretches, j.input.machine),
});

/**
 * Judges a program by its text alone: reads it, sweeps the measured cutters along it at every depth, compares the
 * parts as cut with what is wanted, measures every joint whose walls are on this board, and applies all rules. The
 * outcome fails only when there is nothing to judge; a program that breaks rules is a proof with `pass` false.
 * Board coordinates, mm; the board's lower left corner is the program's X0 Y0. Never throws for bad text.
 */
export function proveProgram(input: ProveInput): Outcome<Proved> {
  const { board, cutters, items, file } = input;
  if (cutters.length === 0) return fail(noCutters(board.id));
  if (items.length === 0) return fail(noItems(board.id));
  const reading = readProgram(input.text, {
    ...(file === undefined ? {} : { file }),
    ...(input.meaning === undefined ? {} : { meaning: input.meaning }),
    ...originsOf(input.machine, board),
  });
  return proveReading(input, reading);
}

/** The same for a program that has been read. */
export function proveReading(input: ProveInput, reading: NcReading): Outcome<Proved> {
  const { board, file } = input;
  if (!reading.moves.some((m) => m.kind === 'linear' || m.kind === 'arc' || m.kind === 'rapid'))
    return fail(nothingToProve(file), ...reading.diagnostics);
  let result: ReturnType<typeof judge>;
  try {
    result = judge(input, reading);
  } catch (e) {
    if (e instanceof TypeError) throw e;
    return fail(shapesRefused(board.id, e instanceof Error ? e.message : String(e)));
  }
  const { judgement: j, step } = result;
  const proof = proofOf(
    j,
    RULES.map((r) => applyRule(r, j)),
  );
  return ok({ proof, asCut: j.asCut }, step > FINEST ? [manyDepths(file, step)] : []);
}
