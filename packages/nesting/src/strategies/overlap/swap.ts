import type { Search } from './search.js';

const clamp = (v: number, lo: number, hi: number): number => Math.max(lo, Math.min(hi, v));

/** Puts piece `i` with its middle where (x, y) is, within room `r`; false where it does not fit or may not be there. */
function putAt(s: Search, i: number, x: number, y: number, r: number): boolean {
  const room = s.rooms[r]!;
  const v = s.variants[s.now.variant[i]!]!;
  if (!s.pieces[i]!.beds.includes(room.bed)) return false;
  if (v.width > room.x1 - room.x0 || v.height > room.y1 - room.y0) return false;
  s.now.x[i] = clamp(Math.round(x - v.width / 2), room.x0, room.x1 - v.width);
  s.now.y[i] = clamp(Math.round(y - v.height / 2), room.y0, room.y1 - v.height);
  s.now.room[i] = r;
  return true;
}

/** Lets two large pieces that are not alike change places. */
export function swapTwo(s: Search): void {
  const { pieces, now, variants, random } = s;
  const order = pieces.map((_, i) => i).sort((a, b) => pieces[b]!.size - pieces[a]!.size || a - b);
  const kinds = new Set(pieces.map((p) => p.kind));
  if (kinds.size < 2) return;
  const pick = (): number => order[Math.floor(random() ** 1.5 * order.length)]!;
  const middle = (i: number): readonly [number, number] => {
    const v = variants[now.variant[i]!]!;
    return [now.x[i]! + v.width / 2, now.y[i]! + v.height / 2];
  };
  for (let again = 0; again < 20; again++) {
    const a = pick();
    const b = pick();
    if (pieces[a]!.kind === pieces[b]!.kind) continue;
    const [ax, ay] = middle(a);
    const [bx, by] = middle(b);
    const [ra, rb] = [now.room[a]!, now.room[b]!];
    const was = [now.x[a]!, now.y[a]!] as const;
    if (!putAt(s, a, bx, by, rb)) continue;
    if (putAt(s, b, ax, ay, ra)) return;
    [now.x[a], now.y[a]] = was;
    now.room[a] = ra;
  }
}
