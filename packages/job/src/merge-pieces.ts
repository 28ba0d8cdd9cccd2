import type { Master, MasterMate, MasterPart } from '@haunch/model';

/** A master with the prefix and the suffix that keep its ids apart from those of other pieces. */
export interface PieceOfMaster {
  readonly master: Master;
  readonly prefix: string;
  readonly suffix: string;
}

function renamed({
  master,
  prefix,
  suffix,
}: PieceOfMaster): Pick<Master, 'parts' | 'marks' | 'mates' | 'assembly'> {
  if (prefix === '' && suffix === '') return master;
  const ids = new Set(master.parts.map((p) => p.id));
  const part = (id: string): string => (ids.has(id) ? `${prefix}${id}${suffix}` : id);
  // Features are called after their part (`EL.m1`); the part's half takes the new name.
  const feature = (id: string): string => {
    const [owner = '', ...rest] = id.split('.');
    return rest.length > 0 && ids.has(owner) ? `${part(owner)}.${rest.join('.')}` : `${prefix}${id}${suffix}`;
  };
  const other = (id: string): string => `${prefix}${id}${suffix}`;
  const loop = (l: MasterPart['outline']): MasterPart['outline'] => ({
    ...l,
    segments: l.segments.map((s) =>
      s.on === undefined ? s : { ...s, on: typeof s.on === 'string' ? other(s.on) : s.on.map(other) },
    ),
  });
  const features = new Set(
    master.parts.flatMap((p) => [...p.through, ...p.pockets, ...p.holes].map((f) => f.id)),
  );
  return {
    marks: master.marks.map((m) => ({
      ...m,
      id: other(m.id),
      terms: Object.fromEntries(Object.entries(m.terms).map(([id, k]) => [part(id), k])),
    })),
    parts: master.parts.map((p) => ({
      ...p,
      id: part(p.id),
      frame: p.frame.on === undefined ? p.frame : { ...p.frame, on: other(p.frame.on) },
      outline: loop(p.outline),
      through: p.through.map((t) => ({ id: feature(t.id), loop: loop(t.loop) })),
      pockets: p.pockets.map((t) => ({ ...t, id: feature(t.id), loop: loop(t.loop) })),
      holes: p.holes.map((h) => ({
        ...h,
        id: feature(h.id),
        ...(h.on === undefined ? {} : { on: h.on.map(other) }),
      })),
    })),
    mates: master.mates.map(
      (m): MasterMate => ({
        ...m,
        id: other(m.id),
        slotPart: part(m.slotPart),
        enteringPart: part(m.enteringPart),
        slotFeatures: m.slotFeatures.map((f) => (features.has(f) ? feature(f) : f)),
      }),
    ),
    assembly: master.assembly.map((s) => ({ ...s, fixed: s.fixed.map(part), moving: s.moving.map(part) })),
  };
}

/**
 * One master that holds the parts of several pieces, each with ids of its own, so that everything after it
 * treats ten pieces as it treats one. Geometry is untouched.
 * @throws RangeError when there is no piece.
 */
export function mergePieces(pieces: readonly PieceOfMaster[]): Master {
  const [first] = pieces;
  if (!first) throw new RangeError('mergePieces: no piece');
  const all = pieces.map(renamed);
  return {
    ...first.master,
    marks: all.flatMap((m) => m.marks),
    parts: all.flatMap((m) => m.parts),
    mates: all.flatMap((m) => m.mates),
    assembly: pieces.length === 1 ? all[0]!.assembly : [],
  };
}
