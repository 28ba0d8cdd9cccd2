import { chordCount } from '@haunch/geometry';
import { type Cutter, type Distortion, type Place, pointLength } from '@haunch/model';
import type { NcArc, NcMotion, NcReading } from '@haunch/nc/read';
import { asMachined } from './as-machined.js';
import type { Stretch } from './stretch.js';

/** Chords of an arc that stands upright keep within this of it, mm. */
const UPRIGHT_TOLERANCE = 0.001;

/** Places on an arc of the planes G18 or G19, which no track in the plane can show, with its end. */
function uprightPlaces(m: NcArc): Place[] {
  const [a0, b0] = m.plane === 'zx' ? [m.from.z, m.from.x] : [m.from.y, m.from.z];
  const across0 = m.plane === 'zx' ? m.from.y : m.from.x;
  const across1 = m.plane === 'zx' ? m.to.y : m.to.x;
  const r = Math.hypot(a0 - m.centre.x, b0 - m.centre.y);
  const start = Math.atan2(b0 - m.centre.y, a0 - m.centre.x);
  const n = chordCount(r, m.sweep, UPRIGHT_TOLERANCE);
  return Array.from({ length: n }, (_, i): Place => {
    if (i === n - 1) return m.to;
    const t = (i + 1) / n;
    const a = m.centre.x + r * Math.cos(start + m.sweep * t);
    const b = m.centre.y + r * Math.sin(start + m.sweep * t);
    const across = across0 + (across1 - across0) * t;
    return m.plane === 'zx' ? { x: b, y: across, z: a } : { x: across, y: a, z: b };
  });
}

const isMotion = (m: NcReading['moves'][number]): m is NcMotion =>
  m.kind === 'rapid' || m.kind === 'linear' || m.kind === 'arc';

/**
 * The stretches of a reading with the cutter in hand on each. A height that the text does not settle is taken as
 * `safe`, so that it cuts nothing here; a rule of its own refuses it. `only` is the cutter taken where the text
 * names no tool at all; `distortion` is what the machine makes of the program's places.
 */
export function findStretches(
  reading: NcReading,
  {
    cutters,
    safe,
    only,
    distortion,
  }: {
    readonly cutters: readonly Cutter[];
    readonly safe: number;
    readonly only: Cutter | null;
    readonly distortion?: Distortion | undefined;
  },
): Stretch[] {
  const byNumber = new Map(cutters.map((c) => [c.number, c]));
  const out: Stretch[] = [];
  for (const m of reading.moves) {
    if (!isMotion(m)) continue;
    const cutter = m.tool === null ? only : (byNumber.get(m.tool) ?? null);
    const shared = {
      line: m.line,
      feed: m.feed,
      spindle: m.spindle,
      tool: m.tool,
      radius: cutter === null ? 0 : cutter.diameter / 2,
      drill: cutter?.kind === 'drill',
      point: cutter?.kind === 'drill' ? pointLength(cutter) : 0,
    };
    const from = m.fromKnown.z ? m.from : { ...m.from, z: safe };
    const to = m.toKnown.z ? m.to : { ...m.to, z: safe };
    if (m.kind === 'arc' && m.plane !== 'xy') {
      let at = m.from;
      for (const next of uprightPlaces(m)) {
        out.push({
          index: out.length,
          kind: 'linear',
          from: at,
          to: next,
          centre: null,
          sweep: 0,
          ...shared,
        });
        at = next;
      }
    } else if (m.kind === 'arc')
      out.push({ index: out.length, kind: 'arc', from, to, centre: m.centre, sweep: m.sweep, ...shared });
    else out.push({ index: out.length, kind: m.kind, from, to, centre: null, sweep: 0, ...shared });
  }
  return distortion ? asMachined(out, distortion) : out;
}
