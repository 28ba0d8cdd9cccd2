import type { Motion } from '@haunch/geometry';
import type { Part } from '@haunch/model';
import type { Field } from '../as-cut-board.js';
import { areaMiss, knownShape, SAME_AREA } from './candidate.js';
import { cutEdges } from './cut-edges.js';
import { depthMiss } from './depth-check.js';
import { findPoses, poseAt } from './pose.js';
import { refineMotion, type Sighting } from './refine.js';
import type { StandingLevel } from './standing-pieces.js';

/** The largest parts, by which a layout is known. */
const LARGEST = 6;
/** A part is in its place when this much of its contour is met. */
const MET = 0.85;
/** At least this share of the parts must be in their places. */
const ENOUGH = 0.5;
/** Motions that are tried in full. */
const MOST = 200;
/** Walls that speak when the motion is refined. */
const SIGHTINGS = 3000;

const TURN = 2 * Math.PI;
const turned = (m: Motion): number => Math.min(m.turn % TURN, TURN - (m.turn % TURN));

/**
 * The one motion that takes a layout of parts to where a program cuts them, from the largest parts' poses, refined on
 * all walls that are then in place; null when fewer than half of the parts, or only one of several, come to lie on
 * their cuts. Of equals the one in which depths agree, then the least turned. mm
 */
export function findLayout({
  parts,
  over,
  field,
  top,
}: {
  readonly parts: readonly Part[];
  readonly over: readonly StandingLevel[];
  readonly field: Field;
  readonly top: number;
}): Motion | null {
  const shapes = parts.map(knownShape);
  const large = [...shapes].sort((a, b) => b.shape.area - a.shape.area).slice(0, LARGEST);
  let best: { motion: Motion; met: number; depth: number; level: StandingLevel } | null = null;
  for (const standing of over) {
    const edges = cutEdges([
      ...standing.frame.flatMap((f) => f.holes),
      ...standing.pieces.flatMap((p) => [p.piece.outer, ...p.piece.holes]),
    ]);
    const motions = large
      .flatMap((s) =>
        standing.pieces
          .filter((p) => areaMiss(s, p) <= SAME_AREA)
          .flatMap((p) => findPoses(s.shape, p.edges, { least: MET, middle: p.middle })),
      )
      .slice(0, MOST)
      .map((p) => p.motion);
    for (const motion of motions) {
      const inPlace = shapes.filter((s) => poseAt(s.shape, motion, edges).share >= MET);
      const met = inPlace.length;
      if (met < Math.max(Math.min(2, parts.length), ENOUGH * parts.length)) continue;
      if (best !== null && met < best.met) continue;
      const depth = inPlace.reduce((sum, s) => sum + depthMiss(s.depths, motion, field, top), 0) / met;
      const better =
        best === null ||
        met > best.met ||
        depth < best.depth - 1e-9 ||
        (depth < best.depth + 1e-9 && turned(motion) < turned(best.motion) - 1e-3);
      if (better) best = { motion, met, depth, level: standing };
    }
    if (best !== null && best.met === parts.length) break;
  }
  if (best === null) return null;
  const { motion, level } = best;
  const edges = cutEdges([
    ...level.frame.flatMap((f) => f.holes),
    ...level.pieces.flatMap((p) => [p.piece.outer, ...p.piece.holes]),
  ]);
  const removed = field.at(level.level.at);
  const all = shapes
    .filter((s) => poseAt(s.shape, motion, edges).share >= MET)
    .flatMap((s) => s.shape.samples);
  const every = Math.max(1, Math.ceil(all.length / SIGHTINGS));
  const sightings = all.filter((_, i) => i % every === 0).map((sample): Sighting => ({ sample, removed }));
  return refineMotion(sightings, motion);
}
