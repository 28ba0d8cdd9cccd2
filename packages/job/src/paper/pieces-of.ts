import type { Master } from '@haunch/model';
import type { PaperPiece } from './paper-data.js';

/** Parts that hang together by their mates, in the master's order. */
function groups({ parts, mates }: Master): string[][] {
  const of = new Map(parts.map((p) => [p.id, [p.id]]));
  for (const m of mates) {
    const [a, b] = [of.get(m.slotPart), of.get(m.enteringPart)];
    if (!a || !b || a === b) continue;
    a.push(...b);
    for (const id of b) of.set(id, a);
  }
  const order = new Map(parts.map((p, i) => [p.id, i]));
  return [...new Set(of.values())].map((g) => [...g].sort((x, y) => order.get(x)! - order.get(y)!));
}

const withoutCopy = (id: string): string => id.replace(/\/\d+$/, '');

/**
 * The pieces that a job's master holds, each with a master of its own: the parts that hang together by their mates. Copies of one piece are
 * counted, not listed again. A part without mates is no piece; where there is one piece alone it belongs to it.
 */
export function piecesOf(master: Master): PaperPiece[] {
  const found = new Map<string, { parts: readonly string[]; count: number }>();
  for (const parts of groups(master)) {
    if (parts.length < 2) continue;
    const key = parts.map(withoutCopy).join('\n');
    const before = found.get(key);
    found.set(key, { parts: before?.parts ?? parts, count: (before?.count ?? 0) + 1 });
  }
  const several = found.size > 1;
  const [only] = found.values();
  if (!several && only?.count === 1) return [{ name: master.title, count: 1, master }];
  return [...found.values()].map(({ parts, count }): PaperPiece => {
    const mine = new Set(parts);
    return {
      name: several ? `${master.title}: ${parts[0]} and ${parts.length - 1} more` : master.title,
      count,
      master: {
        ...master,
        parts: master.parts.filter((p) => mine.has(p.id)),
        mates: master.mates.filter((m) => mine.has(m.slotPart)),
        assembly: master.assembly.filter((s) => [...s.fixed, ...s.moving].every((id) => mine.has(id))),
      },
    };
  });
}
