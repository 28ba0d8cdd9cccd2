import { loadClip } from '@haunch/geometry';
import { assemblySvg, offsetsStepByStep, type Solid, solidsOfMaster } from '@haunch/job';
import { assemblySteps, type PaperPiece, peopleFor } from '@haunch/job/paper';
import type { Axis } from '@haunch/model';
import { Earcut } from 'three/src/extras/Earcut.js';
import type { DrawnAssembly, DrawnPlate } from './assembly-wire.js';
import { recallResult } from './results.js';

type Vec = readonly [number, number, number];

/** A flat side as triangles: seen along its greatest axis, its holes after the loop round them. */
function triangles(normal: Vec, loops: Solid['faces'][number]['loops']): Vec[] {
  const size = normal.map(Math.abs);
  const drop = size.indexOf(Math.max(...size));
  const [u, v] = [(drop + 1) % 3, (drop + 2) % 3];
  // Looked at from outside, the loop that bounds material runs counter-clockwise, holes the other way.
  const flip = normal[drop]! < 0 ? -1 : 1;
  const area = (l: readonly Vec[]): number =>
    (flip *
      l.reduce((sum, p, i) => {
        const q = l[(i + 1) % l.length]!;
        return sum + p[u]! * q[v]! - q[u]! * p[v]!;
      }, 0)) /
    2;
  const known = loops.map((l) => ({ loop: l, area: area(l) }));
  const turned =
    known.length > 0 && known.reduce((a, b) => (Math.abs(b.area) > Math.abs(a.area) ? b : a)).area < 0;
  const outer = known.filter((k) => k.area < 0 === turned);
  const holes = known.filter((k) => k.area < 0 !== turned);
  const inside = (p: Vec, l: readonly Vec[]): boolean => {
    let odd = false;
    l.forEach((a, i) => {
      const b = l[(i + 1) % l.length]!;
      if (
        a[v]! > p[v]! !== b[v]! > p[v]! &&
        p[u]! < a[u]! + ((p[v]! - a[v]!) / (b[v]! - a[v]!)) * (b[u]! - a[u]!)
      )
        odd = !odd;
    });
    return odd;
  };
  return outer.flatMap(({ loop }) => {
    const mine = outer.length === 1 ? holes : holes.filter((h) => inside(h.loop[0]!, loop));
    const corners = [loop, ...mine.map((h) => h.loop)].flat();
    const starts: number[] = [];
    let at = loop.length;
    for (const h of mine) {
      starts.push(at);
      at += h.loop.length;
    }
    const flat = corners.flatMap((p) => [p[u]!, p[v]!]);
    const found = Earcut.triangulate(flat, starts, 2).map((i) => corners[i]!);
    // All three corners counter-clockwise as seen from outside.
    for (let i = 0; i + 2 < found.length; i += 3) {
      const [a, b, c] = [found[i]!, found[i + 1]!, found[i + 2]!];
      const turn = (b[u]! - a[u]!) * (c[v]! - a[v]!) - (c[u]! - a[u]!) * (b[v]! - a[v]!);
      if (flip * turn < 0) [found[i + 1], found[i + 2]] = [c, b];
    }
    return found;
  });
}

/** A solid as triangles and lines. */
export function drawnPlate(solid: Solid, name: string): DrawnPlate {
  const positions: number[] = [];
  const normals: number[] = [];
  for (const f of solid.faces)
    for (const p of triangles(f.normal, f.loops)) {
      positions.push(...p);
      normals.push(...f.normal);
    }
  const box = [0, 1, 2].map((k) => {
    let [least, most] = [Infinity, -Infinity];
    for (let i = k; i < positions.length; i += 3) {
      least = Math.min(least, positions[i]!);
      most = Math.max(most, positions[i]!);
    }
    return (least + most) / 2;
  });
  return {
    id: solid.id,
    name,
    positions: Float32Array.from(positions),
    normals: Float32Array.from(normals),
    lines: Float32Array.from(
      solid.arrises.filter((a) => a.smooth === undefined).flatMap((a) => [...a.from, ...a.to]),
    ),
    middle: [box[0]!, box[1]!, box[2]!],
  };
}

async function pieceOf(document: string, piece: number): Promise<PaperPiece | null> {
  const kept = await recallResult(document);
  return kept?.result.document === document ? (kept.shown.pieces[piece] ?? null) : null;
}

/** A piece of a result in space, and its steps; null where this worker has none of that state. */
export async function assemblyOf(document: string, piece: number): Promise<DrawnAssembly | null> {
  const found = await pieceOf(document, piece);
  if (!found) return null;
  const { master, name, count } = found;
  const solids = solidsOfMaster(master, await loadClip());
  const names = new Map(master.parts.map((p) => [p.id, p.name]));
  const steps = assemblySteps(master, solids);
  const listed = steps.ok ? steps.value : [];
  const offsets = offsetsStepByStep(
    listed.map((s) => ({
      step: s.number,
      moving: s.moving,
      move: [...s.direction] as unknown as Axis,
      travel: s.travel,
    })),
    solids,
  );
  return {
    name,
    count,
    plates: solids.map((s) => drawnPlate(s, names.get(s.id) ?? '')),
    steps: listed.map(
      ({ number, moving, standing, partners, direction, hands, weight, text, joints, places }) => ({
        number,
        moving,
        standing,
        partners,
        direction,
        hands,
        people: peopleFor({ hands, weight }),
        weight,
        text: master.assembly.length > 0 ? text : '',
        joints,
        places: places.map(({ joint, feature, part, partner, at }) => ({
          joint,
          feature,
          part,
          partner,
          at,
        })),
      }),
    ),
    why: steps.ok ? null : (steps.diagnostics[0]?.message ?? ''),
    offsets: offsets.map((o) => Float32Array.from(solids.flatMap((s) => [...o.get(s.id)!]))),
  };
}

/** A drawn picture of a step, for browsers that draw nothing in space: what takes part, moved apart along the move. Step 0: the piece as it stands. */
export async function assemblyPicture(document: string, piece: number, step: number): Promise<string | null> {
  const found = await pieceOf(document, piece);
  if (!found) return null;
  const { master } = found;
  const clip = await loadClip();
  if (step === 0) return assemblySvg(master, clip, { width: 1000 });
  const steps = assemblySteps(master, solidsOfMaster(master, clip));
  const at = steps.ok ? steps.value[step - 1] : undefined;
  if (!at) return null;
  const here = new Set([...at.moving, ...at.standing]);
  return assemblySvg(
    {
      ...master,
      parts: master.parts.filter((p) => here.has(p.id)),
      mates: master.mates.filter((m) => here.has(m.slotPart) && here.has(m.enteringPart)),
      assembly: [
        {
          step: 1,
          moving: [...at.moving],
          fixed: [...at.standing],
          move: [...at.direction] as unknown as Axis,
          travel: Math.max(at.travel, 60),
          text: at.text,
        },
      ],
    },
    clip,
    { explode: 1, width: 1000 },
  );
}
