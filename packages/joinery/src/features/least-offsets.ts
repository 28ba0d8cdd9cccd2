/** One wish: the sum of `factor · offset` over some unknowns is `value`. Unknowns by number. */
export interface OffsetRow {
  readonly terms: readonly (readonly [unknown: number, factor: number])[];
  readonly value: number;
  /** What it is called when it cannot be kept. */
  readonly name: string;
  /** True where it must be kept; others give way to what stands before them. */
  readonly firm: boolean;
}

/** A row that cannot be kept together with others before it. */
export interface OffsetConflict {
  readonly row: OffsetRow;
  readonly with: readonly string[];
}

/** Sums below this are nothing, and values that differ by less agree. mm */
const NOTHING = 1e-9;
const AGREE = 1e-6;

/**
 * The offsets of least sum of squares that keep rows, taken in their order: a row that follows from those before it
 * adds nothing; one that contradicts them is dropped, or reported where it is firm. Unknowns in no row get 0.
 * Minimum-norm solution x = Aᵀ(A Aᵀ)⁻¹b of a full-rank system (Golub and Van Loan, Matrix Computations, 4th ed.,
 * section 5.6), block by block of unknowns that hang together.
 */
export function leastOffsets(
  unknowns: number,
  rows: readonly OffsetRow[],
): { readonly offsets: readonly number[]; readonly conflicts: readonly OffsetConflict[] } {
  const offsets = new Array<number>(unknowns).fill(0);
  const conflicts: OffsetConflict[] = [];
  for (const block of blocksOf(unknowns, rows)) {
    const solved = solveBlock(block);
    conflicts.push(...solved.conflicts);
    block.unknowns.forEach((u, i) => {
      offsets[u] = solved.offsets[i]!;
    });
  }
  return { offsets, conflicts };
}

interface Block {
  readonly unknowns: readonly number[];
  readonly rows: readonly OffsetRow[];
}

/** Rows by the unknowns that they connect; the order of rows stays. */
function blocksOf(unknowns: number, rows: readonly OffsetRow[]): Block[] {
  const parent = Array.from({ length: unknowns }, (_, i) => i);
  const root = (i: number): number => {
    let r = i;
    while (parent[r] !== r) r = parent[r]!;
    for (let k = i; parent[k] !== r; ) [k, parent[k]] = [parent[k]!, r];
    return r;
  };
  for (const { terms } of rows) for (const [u] of terms) parent[root(u)] = root(terms[0]![0]);
  const blocks = new Map<number, { unknowns: Set<number>; rows: OffsetRow[] }>();
  for (const row of rows) {
    if (row.terms.length === 0) continue;
    const key = root(row.terms[0]![0]);
    const block = blocks.get(key) ?? { unknowns: new Set(), rows: [] };
    blocks.set(key, block);
    block.rows.push(row);
    for (const [u] of row.terms) block.unknowns.add(u);
  }
  return [...blocks.values()].map((b) => ({ unknowns: [...b.unknowns].sort((p, q) => p - q), rows: b.rows }));
}

function solveBlock({ unknowns, rows }: Block): { offsets: number[]; conflicts: OffsetConflict[] } {
  const place = new Map(unknowns.map((u, i) => [u, i]));
  const n = unknowns.length;
  const kept: { a: number[]; b: number }[] = [];
  const reduced: { a: number[]; b: number; pivot: number; names: Set<string> }[] = [];
  const conflicts: OffsetConflict[] = [];
  for (const row of rows) {
    const a = new Array<number>(n).fill(0);
    for (const [u, f] of row.terms) a[place.get(u)!]! += f;
    const rest = [...a];
    let b = row.value;
    const names = new Set<string>();
    for (const r of reduced) {
      const f = rest[r.pivot]!;
      if (Math.abs(f) <= NOTHING) continue;
      for (let i = 0; i < n; i++) rest[i]! -= f * r.a[i]!;
      b -= f * r.b;
      for (const name of r.names) names.add(name);
    }
    let pivot = 0;
    for (let i = 1; i < n; i++) if (Math.abs(rest[i]!) > Math.abs(rest[pivot]!)) pivot = i;
    const scale = rest[pivot]!;
    if (Math.abs(scale) > NOTHING) {
      reduced.push({ a: rest.map((v) => v / scale), b: b / scale, pivot, names: names.add(row.name) });
      kept.push({ a, b: row.value });
    } else if (Math.abs(b) > AGREE && row.firm) conflicts.push({ row, with: [...names].sort() });
  }
  return { offsets: leastNorm(kept, n), conflicts };
}

/** x = Aᵀ y with (A Aᵀ) y = b, by Cholesky's factors; the rows must be independent. */
function leastNorm(
  rows: readonly { readonly a: readonly number[]; readonly b: number }[],
  n: number,
): number[] {
  const m = rows.length;
  const dot = (p: readonly number[], q: readonly number[]): number => p.reduce((s, v, i) => s + v * q[i]!, 0);
  const low: number[][] = [];
  for (let i = 0; i < m; i++) {
    const line: number[] = [];
    for (let j = 0; j <= i; j++) {
      let s = dot(rows[i]!.a, rows[j]!.a);
      for (let k = 0; k < j; k++) s -= line[k]! * (j === i ? line[k]! : low[j]![k]!);
      line.push(j === i ? Math.sqrt(s) : s / low[j]![j]!);
    }
    low.push(line);
  }
  const y = rows.map((r) => r.b);
  for (let i = 0; i < m; i++) {
    for (let k = 0; k < i; k++) y[i]! -= low[i]![k]! * y[k]!;
    y[i]! /= low[i]![i]!;
  }
  for (let i = m - 1; i >= 0; i--) {
    for (let k = i + 1; k < m; k++) y[i]! -= low[k]![i]! * y[k]!;
    y[i]! /= low[i]![i]!;
  }
  return Array.from({ length: n }, (_, i) => rows.reduce((s, r, k) => s + r.a[i]! * y[k]!, 0));
}
