import {
  chordCount,
  flattenRing,
  offsetRing,
  type Ring,
  recoverRing,
  ring,
  ringArea,
  ringSegments,
} from '@haunch/geometry';
import { seededRandom } from '@haunch/nesting';
import clipper from 'clipper-lib';
import Coordinate from 'jsts/org/locationtech/jts/geom/Coordinate.js';
import GeometryFactory from 'jsts/org/locationtech/jts/geom/GeometryFactory.js';
import BufferOp from 'jsts/org/locationtech/jts/operation/buffer/BufferOp.js';

/** All peers work to this, mm: chords leave an arc by no more. */
const SAGITTA = 0.001;
const BY = 3;

interface Flat {
  readonly x: number;
  readonly y: number;
}

/** Rings like routed plates: 50 to 400 edges, every third an arc, none nearer to itself than twice the offset. */
function rings(count: number): Ring[] {
  const random = seededRandom(7);
  return Array.from({ length: count }, (_, k) => {
    const n = 50 + Math.floor((350 * k) / (count - 1));
    const radius = 3 * n;
    return ring(
      Array.from({ length: n }, (_, i) => {
        const a = (2 * Math.PI * i) / n;
        const r = radius * (1 + 0.02 * (random() - 0.5));
        return { x: r * Math.cos(a), y: r * Math.sin(a), bulge: i % 3 === 0 ? 0.3 * (random() - 0.5) : 0 };
      }),
    );
  });
}

function throughClipper(flat: readonly Flat[]): Flat[] {
  const scale = 1e4;
  const offset = new clipper.ClipperOffset(2, SAGITTA * scale);
  offset.AddPath(
    flat.map((p) => ({ X: Math.round(p.x * scale), Y: Math.round(p.y * scale) })),
    clipper.JoinType.jtRound,
    clipper.EndType.etClosedPolygon,
  );
  const out: { X: number; Y: number }[][] = [];
  offset.Execute(out, BY * scale);
  return out[0]!.map((p) => ({ x: p.X / scale, y: p.Y / scale }));
}

function throughJsts(flat: readonly Flat[]): Flat[] {
  const factory = new GeometryFactory();
  const corners = [...flat, flat[0]!].map((p) => new Coordinate(p.x, p.y));
  // So many chords a quarter that none leaves its arc of the offset's radius by more than the sagitta.
  const quarter = Math.ceil(chordCount(BY, Math.PI / 2, SAGITTA));
  const buffered = BufferOp.bufferOp(factory.createPolygon(factory.createLinearRing(corners)), BY, quarter);
  return buffered.getExteriorRing().getCoordinates().slice(0, -1) as Flat[];
}

const recovered = (flat: readonly Flat[]): Ring =>
  recoverRing(ring(flat.map(({ x, y }) => ({ x, y, bulge: 0 }))), { tolerance: 2 * SAGITTA });

const seconds = (work: () => void): number => {
  const times = Array.from({ length: 5 }, () => {
    const started = performance.now();
    work();
    return (performance.now() - started) / 1000;
  });
  return times.sort((a, b) => a - b)[2]!;
};

/** Seconds for the offsets of 200 rings, ours and peers' (flattening before and arcs recovered after, as both need), and how far areas are apart. */
export function offsetTimes(): {
  readonly ours: number;
  readonly clipperLib: number;
  readonly jsts: number;
  /** The peers' offsets alone, as chords. */
  readonly asChords: { readonly clipperLib: number; readonly jsts: number };
  readonly areasApart: number;
  readonly segments: { readonly ours: number; readonly peers: number };
} {
  const all = rings(200);
  const viaClipper = (r: Ring): Ring => recovered(throughClipper(flattenRing(r, { tolerance: SAGITTA })));
  const viaJsts = (r: Ring): Ring => recovered(throughJsts(flattenRing(r, { tolerance: SAGITTA })));
  let [apart, ours, peers] = [0, 0, 0];
  for (const r of all.slice(0, 20)) {
    const [a] = offsetRing(r, { by: BY });
    const b = viaClipper(r);
    apart = Math.max(
      apart,
      Math.abs(ringArea(a!) / Math.abs(ringArea(b)) - 1),
      Math.abs(ringArea(a!) / Math.abs(ringArea(viaJsts(r))) - 1),
    );
    ours += ringSegments(a!).length;
    peers += ringSegments(b).length;
  }
  return {
    ours: seconds(() => all.forEach((r) => void offsetRing({ vertices: [...r.vertices] }, { by: BY }))),
    clipperLib: seconds(() => all.forEach((r) => void viaClipper({ vertices: [...r.vertices] }))),
    jsts: seconds(() => all.forEach((r) => void viaJsts({ vertices: [...r.vertices] }))),
    asChords: {
      clipperLib: seconds(() =>
        all.forEach((r) => void throughClipper(flattenRing(r, { tolerance: SAGITTA }))),
      ),
      jsts: seconds(() => all.forEach((r) => void throughJsts(flattenRing(r, { tolerance: SAGITTA })))),
    },
    areasApart: apart,
    segments: { ours, peers },
  };
}
