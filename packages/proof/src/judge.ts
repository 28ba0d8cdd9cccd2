import { flattenRing } from '@haunch/geometry';
import type { Cutter } from '@haunch/model';
import type { NcReading } from '@haunch/nc/read';
import { type AsCutBoard, keepField, makeField } from './as-cut-board.js';
import { attachmentOf, kerfIn, LEAST_HEIGHT, TAB_SPARE } from './bridges.js';
import { HEIGHT_ROUNDING } from './height-rounding.js';
import { jointsOn, judgeJoints } from './joints/judge-joints.js';
import { judgeItem } from './judge-item.js';
import type { HeldItem, Judgement, Slug } from './judgement.js';
import { placeFinder } from './place-finder.js';
import type { ProgramLines } from './program-lines.js';
import type { ProveInput } from './prove-input.js';
import { looseIn, slugPieces } from './slugs.js';
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

/** The cutter taken because a text names no tool and only one is described. */
export const unnamedCutter = (reading: NcReading, cutters: readonly Cutter[]): Cutter | null =>
  cutters.length === 1 && reading.moves.every((m) => !('tool' in m) || m.tool === null) ? cutters[0]! : null;

/** Answers once, when first asked. */
function once<T>(answer: () => T): () => T {
  let known: { readonly value: T } | undefined;
  return () => {
    known ??= { value: answer() };
    return known.value;
  };
}

/**
 * All that the rules ask, of one program, or of several whose motions are given. What must be swept for is worked out
 * when it is first asked for: rules that look at motions alone do not wait for it.
 */
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
  const radii = [...new Set(cutting.filter((s) => !s.drill && s.radius > 0).map((s) => s.radius))];
  const usual = radii.length > 0 ? radii : cutters.map((c) => c.diameter / 2);
  const leastRadius = Math.min(...usual);
  const mostRadius = Math.max(...usual);
  const boardPolygon = flattenRing(board.outline, { tolerance: 0.005 });
  const fieldOnce = once(() => makeField(cutting, { top, levels }));
  const swept = once(() => {
    const field = fieldOnce();
    const walls = items.flatMap(({ part }) => wantedContours(part, top).flatMap((c) => c.segments));
    const sweeper = makeSweeper(clip, fineNear(walls, mostRadius));
    const patches = levels.map((l) => sweeper.sweep(field.at(l.at).tracks));
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
    const kerf = (contour: WantedContour) =>
      kerfIn({
        clip,
        contour,
        least: leastRadius,
        most: mostRadius,
        holding,
        board: boardPolygon,
      });
    const held = judged.map((i): HeldItem => {
      const outer = kerf(i.contours[0]!);
      return {
        judged: i,
        kerf: outer(atTabs),
        under: outer(underside),
        slugs: i.contours.slice(1).flatMap((c): Slug[] => {
          if (c.floor !== null) return [];
          const loose = looseIn(clip, c)(underside);
          const left = [...loose, ...slugPieces(clip, c, underside, 2 * leastRadius)];
          if (left.length === 0) return [];
          const inner = kerf(c);
          return [{ kerf: inner(atTabs), under: inner(underside), left, loose }];
        }),
      };
    });
    return {
      items: held,
      attachment: attachmentOf(
        clip,
        boardPolygon,
        atTabs,
        held.map((h) => ({ item: h.judged.item.item, kerf: h.kerf })),
      ),
      asCut,
      joints: judgeJoints(jointsOn(joints, asCut), [asCut], thicknesses),
    };
  });
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
    get field() {
      return fieldOnce();
    },
    boardPolygon,
    get items() {
      return swept().items;
    },
    get attachment() {
      return swept().attachment;
    },
    place: placeFinder(items, joints, top),
    get asCut() {
      return swept().asCut;
    },
    get joints() {
      return swept().joints;
    },
    leastRadius,
    mostRadius,
  };
  return { judgement, step };
}
