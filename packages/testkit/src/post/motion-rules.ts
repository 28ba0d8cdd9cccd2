import type { Place } from '@haunch/model';
import type { KitRule } from '../kit.js';
import { eachMove, placeOf } from './each-move.js';
import type { TriedPost } from './post-trial.js';
import { stray } from './stray.js';

/** Floating point's own share in a comparison, mm. */
const NOISE = 1e-6;
/**
 * Ends and centre of an arc are rounded each their own way; samples lie on the grid of 0.0001 mm, so that coarser words
 * round both ends, by up to 0.71 of a step in the plane, and the centre.
 */
const ARC_STEPS = 3;
/** NISTIR 6556, 3.5.3: radii at the two ends of an arc may differ by 0.0002 inch or 0.002 mm. */
const RADII_AGREE = 0.002;

const apart = (a: Place, b: Place): number =>
  Math.max(Math.abs(a.x - b.x), Math.abs(a.y - b.y), Math.abs(a.z - b.z));
const mm = (v: number): string => `${Number(v.toPrecision(4))} mm`;

/** Rules on where the cutter goes. */
export const MOTION_RULES: readonly KitRule<TriedPost>[] = [
  {
    id: 'T05',
    title: 'the unit is said before the first motion, and is the one that was declared',
    why: 'a control keeps the unit of whatever ran before: 18 inches instead of 18 millimetres',
    check: (t) => {
      const out: string[] = [];
      for (const { sample, reading } of t.trials)
        if (!reading.unitSeen) out.push(`${sample.name}: no unit stands before the first motion`);
      for (const m of eachMove(t)) {
        const end = m.read.at(-1)?.to;
        if (!end) continue;
        const size = Math.hypot(m.move.to.x, m.move.to.y);
        const ratio = Math.hypot(end.x, end.y) / size;
        if (size < 10) continue;
        for (const wrong of [25.4, 1 / 25.4])
          if (Math.abs(ratio / wrong - 1) < 0.01)
            out.push(
              `${placeOf(m)}: it ends ${ratio > 1 ? '25.4 times' : 'one 25.4th of the way'} from the origin`,
            );
      }
      return out;
    },
  },
  {
    id: 'T06',
    title: 'straight moves end where they should, within half a step of the words',
    why: 'every wall of a joint is made of these ends',
    check: (t) => {
      const out: string[] = [];
      for (const m of eachMove(t)) {
        const end = m.read.at(-1)?.to;
        if (m.move.kind === 'circular' || !end) continue;
        const off = apart(end, m.move.to);
        if (off > t.step / 2 + NOISE) out.push(`${placeOf(m)}: ends ${mm(off)} off`);
      }
      return out;
    },
  },
  {
    id: 'T07',
    title: 'no move is lost, and none is added',
    why: 'a lost pass leaves wood standing; an added one cuts where nothing was planned',
    check: (t) => {
      const out: string[] = [];
      for (const m of eachMove(t)) {
        const far = m.from === null || apart(m.from, m.move.to) > 2 * t.step;
        if (far && m.read.length === 0) out.push(`${placeOf(m)}: nothing was read of it`);
        const most = m.move.kind === 'circular' ? Infinity : 2;
        if (m.read.length > most) out.push(`${placeOf(m)}: ${m.read.length} motions were read of it`);
        if (m.move.kind === 'linear' && m.read.length > 1 && m.read.some((r) => r.kind !== 'rapid'))
          if (m.read.filter((r) => r.kind !== 'rapid').length > 1)
            out.push(`${placeOf(m)}: cut in ${m.read.length} motions`);
      }
      for (const { sample, reading, lineMoves } of t.trials)
        for (const r of reading.moves) {
          if (r.kind !== 'rapid' && r.kind !== 'linear' && r.kind !== 'arc') continue;
          if (lineMoves[r.line - 1] !== null) continue;
          const sideways = r.toKnown.x !== r.fromKnown.x || r.to.x !== r.from.x || r.to.y !== r.from.y;
          if (r.kind !== 'rapid' || sideways || r.to.z < r.from.z)
            out.push(
              `${sample.name}: line ${r.line} of the start or the end moves the cutter otherwise than up`,
            );
        }
      return out;
    },
  },
  {
    id: 'T08',
    title: 'a rapid is a rapid, and a cut is a cut',
    why: 'a cut at the speed of rapids breaks the cutter, and its path is not promised to be straight',
    check: (t) => {
      const out: string[] = [];
      for (const m of eachMove(t))
        for (const r of m.read) {
          // After a change of cutter the host goes back by rapids to where the next cut begins.
          const back = r.kind === 'rapid' && m.move.kind !== 'rapid' && m.read.indexOf(r) < m.read.length - 1;
          if ((r.kind === 'rapid') !== (m.move.kind === 'rapid') && !back)
            out.push(`${placeOf(m)}: read as ${r.kind}`);
        }
      return out;
    },
  },
  {
    id: 'T09',
    title: 'arcs turn the way they should',
    why: 'the other way round is the rest of the circle, through the part',
    check: (t) => {
      const out: string[] = [];
      for (const m of eachMove(t)) {
        if (m.move.kind !== 'circular') continue;
        for (const r of m.read)
          if (r.kind === 'arc' && r.turn !== m.move.turn) out.push(`${placeOf(m)}: turns ${r.turn}`);
      }
      return out;
    },
  },
  {
    id: 'T10',
    title: 'arcs run along their circle, in one block or in several, as arcs or as chords',
    why: 'centres must be solved from the rounded ends; a shifted one bows the wall',
    check: (t) => {
      const { arcs } = t.post.dialect;
      const out: string[] = [];
      for (const m of eachMove(t)) {
        if (m.move.kind !== 'circular' || m.from === null || m.read.length === 0) continue;
        const chords = m.read.some((r) => r.kind === 'linear');
        const most = (chords ? arcs.chordTolerance : 0) + ARC_STEPS * t.step + NOISE;
        const off = stray(m.from, m.move, m.read);
        if (off > most) out.push(`${placeOf(m)}: strays ${mm(off)} from its circle`);
        for (const r of m.read) {
          if (r.kind !== 'arc') continue;
          const c = r.centre;
          const radii = Math.abs(
            Math.hypot(r.from.x - c.x, r.from.y - c.y) - Math.hypot(r.to.x - c.x, r.to.y - c.y),
          );
          if (radii > RADII_AGREE + NOISE) out.push(`${placeOf(m)}: its radii differ by ${mm(radii)}`);
        }
      }
      return out;
    },
  },
  {
    id: 'T11',
    title: 'a move raises the cutter before it goes sideways from a place that nobody knows',
    why: 'at the start, and after a cutter was changed by hand, the tip may stand in the sheet',
    check: (t) => {
      const out: string[] = [];
      let unknown = true;
      let before: unknown = null;
      for (const m of eachMove(t)) {
        const { moves } = m.trial.sample.toolpath;
        if (m.trial !== before) unknown = true;
        before = m.trial;
        if (moves[m.index - 1]?.kind === 'cutter' || moves[m.index - 2]?.kind === 'cutter') unknown = true;
        const first = m.read[0];
        if (!unknown || !first) continue;
        unknown = false;
        const sideways = first.fromKnown.x ? first.to.x !== first.from.x : first.toKnown.x;
        const sidewaysY = first.fromKnown.y ? first.to.y !== first.from.y : first.toKnown.y;
        if (sideways || sidewaysY) out.push(`${placeOf(m)}: goes sideways first`);
      }
      return out;
    },
  },
];
