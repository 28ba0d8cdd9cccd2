import { flattenRing } from '@haunch/geometry';
import type { Finding } from '@haunch/model';
import type { HeldItem, Judgement } from '../judgement.js';
import { releaseOf, tracksIn } from '../release.js';
import { looseIn } from '../slugs.js';
import type { Piece } from '../sweep/pieces.js';
import type { Stretch } from '../sweep/stretch.js';
import { stretchIndex } from '../sweep/stretch-index.js';
import { boxesMeet, boxOf, makeSweeper, type Patch } from '../sweep/sweeper.js';
import { type Track, trackBelow } from '../sweep/track.js';
import { trackPolygonDistance } from '../sweep/track-polygon.js';
import type { WantedContour } from '../wanted/wanted-contour.js';
import { atStretch, type Rule } from './rule.js';

const COARSE = 0.02;
/** Deeper than this a later cut is into the piece, not past it, mm. */
const INTO = 0.05;

/** The first later motion below the sheet's top whose cutter enters a piece. */
function laterCut(j: Judgement, after: number, piece: Piece): Stretch | undefined {
  let found: Stretch | undefined;
  stretchIndex(j.stretches).search(piece.box, j.top - 1e-6, (s) => {
    if (s.index <= after) return false;
    const t = trackBelow(s, j.top - 1e-6);
    if (t === null) return false;
    const r = t.kind === 'arc' ? t.r : 0;
    const c = t.kind === 'arc' ? t.centre : t.a;
    const around = boxOf([[t.a, t.b, { x: c.x - r, y: c.y - r }, { x: c.x + r, y: c.y + r }]]);
    if (!boxesMeet(around, piece.box, t.radius) || trackPolygonDistance(t, piece.outer) >= t.radius - INTO)
      return false;
    found = s;
    return true;
  });
  return found;
}

/** The most moments at which one through cut is looked at; of more loops than these every second, third … */
const MOST_LOOKS = 64;

const closes = (tracks: readonly Track[], i: number): boolean => {
  const t = tracks[i]!;
  const next = tracks[i + 1];
  if (next === undefined || Math.hypot(next.a.x - t.b.x, next.a.y - t.b.y) > 1e-6) return true;
  for (let k = i; k >= 0; k--) {
    if (Math.hypot(tracks[k]!.a.x - t.b.x, tracks[k]!.a.y - t.b.y) < 1e-4) return true;
    const before = tracks[k - 1];
    if (before === undefined || Math.hypot(before.b.x - tracks[k]!.a.x, before.b.y - tracks[k]!.a.y) > 1e-6)
      return false;
  }
  return false;
};

/** The first cut into a piece in a through cut that hung on nothing any more; asked whenever a loop closes. */
function cutSlug(j: Judgement, contour: WantedContour) {
  const { clip } = j.input;
  const ring = [flattenRing(contour.ring, { tolerance: 0.01 })];
  const tracks = tracksIn(j.stretches, ring, j.bottom + 0.0005);
  // One straight way or one drill leaves nothing between itself and the wall.
  if (tracks.length < 2) return undefined;
  const sweeper = makeSweeper(clip, () => COARSE);
  const looseAfter = looseIn(clip, contour);
  const closings = tracks.flatMap((_, i) => (closes(tracks, i) ? [i] : []));
  const every = Math.ceil(closings.length / MOST_LOOKS);
  for (const [k, i] of closings.entries()) {
    if (k % every !== 0) continue;
    const patches: readonly Patch[] = sweeper.sweep(tracks.slice(0, i + 1));
    for (const piece of looseAfter(patches)) {
      const s = laterCut(j, tracks[i]!.index, piece);
      if (s !== undefined) return s;
    }
  }
  return undefined;
}

function cutItem(j: Judgement, { judged }: HeldItem) {
  const after = releaseOf(j.input.clip, j.stretches, {
    window: judged.window,
    inside: judged.inside,
    underside: j.bottom + 0.0005,
  });
  if (after === null || judged.piece === null) return undefined;
  const bare = flattenRing(judged.contours[0]!.ring, { tolerance: COARSE });
  const piece: Piece = { outer: bare, holes: [], box: boxOf([bare]), area: 0 };
  return laterCut(j, after, piece);
}

/** P12: once a part or a slug hangs on nothing, no cutter touches it again. */
export const released: Rule = {
  id: 'P12',
  title: 'No cut in a piece that has come loose',
  unit: '',
  judge(j) {
    const findings: Finding[] = [];
    for (const held of j.items) {
      const name = held.judged.item.item;
      const loose = held.kerf.any.length === 0;
      const s = loose ? cutItem(j, held) : undefined;
      if (s !== undefined) findings.push(atStretch(j, s, `${name} is cut after it has come loose.`));
      for (const contour of held.judged.contours.slice(1)) {
        if (contour.floor !== null) continue;
        const slug = cutSlug(j, contour);
        if (slug !== undefined)
          findings.push({
            ...atStretch(j, slug, `A piece in ${contour.id} of ${name} is cut after it has come loose.`),
            feature: contour.id,
          });
      }
    }
    return { findings, margin: null };
  },
};
