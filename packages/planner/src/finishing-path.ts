import { type Path, segmentLength, sliceSegment } from './path.js';
import { FINISH_BESIDE } from './practice.js';

/** A finishing path with its stretches told apart: what is cut, and what only leads through the kerf from one wall to the next. */
export interface FinishingPath {
  readonly path: Path;
  /** The stretches without stock, by where they stand in `path`. */
  readonly idle: ReadonlySet<Path[number]>;
}

/** Tells apart, along a closed path, the walls that mate with the corners beside them, and everything else. */
export function finishingPath(path: Path, mating: ReadonlySet<string>): FinishingPath {
  const tagOf = (i: number, step: 1 | -1): string | undefined => {
    for (let k = 0; k < path.length; k++) {
      const { tag } = path[(((i + step * k) % path.length) + path.length) % path.length]!;
      if (tag !== undefined) return tag;
    }
    return undefined;
  };
  const mates = (tag: string | undefined): boolean => tag !== undefined && mating.has(tag);
  const cut = path.map((s, i) =>
    s.tag === undefined ? mates(tagOf(i, -1)) || mates(tagOf(i, 1)) : mates(s.tag),
  );
  const idle = new Set<Path[number]>();
  const out = path.flatMap((s, i): Path => {
    if (cut[i]) return [s];
    const length = segmentLength(s);
    const head = cut[(i + path.length - 1) % path.length] ? FINISH_BESIDE : 0;
    const tail = cut[(i + 1) % path.length] ? FINISH_BESIDE : 0;
    if (length - head - tail < FINISH_BESIDE) return [s];
    const middle = sliceSegment(s, head, length - tail);
    idle.add(middle);
    return [
      ...(head > 0 ? [sliceSegment(s, 0, head)] : []),
      middle,
      ...(tail > 0 ? [sliceSegment(s, length - tail, length)] : []),
    ];
  });
  return { path: out, idle };
}
