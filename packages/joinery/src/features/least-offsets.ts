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

/** A row in which no pivot of an earlier one is left; its own pivot has the factor 1. */
interface Reduced {
  readonly terms: ReadonlyMap<number, number>;
  readonly value: number;
  readonly pivot: number;
  readonly names: ReadonlySet<string>;
}

function solveBlock({ unknowns, rows }: Block): { offsets: number[]; conflicts: OffsetConflict[] } {
  const place = new Map(unknowns.map((u, i) => [u, i]));
  const kept: { terms: Map<number, number>; value: number }[] = [];
  const reduced: Reduced[] = [];
  const rowOfPivot = new Map<number, number>();
  const conflicts: OffsetConflict[] = [];
  for (const row of rows) {
    const terms = new Map<number, number>();
    for (const [u, f] of row.terms) add(terms, place.get(u)!, f);
    const rest = new Map(terms);
    let { value } = row;
    const names = new Set<string>();
    // A row brings in pivots of later rows alone, so this ends.
    for (let next = firstRow(rest, rowOfPivot); next < Infinity; next = firstRow(rest, rowOfPivot)) {
      const r = reduced[next]!;
      const f = rest.get(r.pivot)!;
      for (const [i, v] of r.terms) add(rest, i, -f * v);
      rest.delete(r.pivot);
      value -= f * r.value;
      for (const name of r.names) names.add(name);
    }
    let pivot = -1;
    for (const [i, v] of rest) if (pivot < 0 || Math.abs(v) > Math.abs(rest.get(pivot)!)) pivot = i;
    if (pivot >= 0) {
      const scale = rest.get(pivot)!;
      rowOfPivot.set(pivot, reduced.length);
      reduced.push({
        terms: new Map([...rest].map(([i, v]) => [i, v / scale])),
        value: value / scale,
        pivot,
        names: names.add(row.name),
      });
      kept.push({ terms, value: row.value });
    } else if (Math.abs(value) > AGREE && row.firm) conflicts.push({ row, with: [...names].sort() });
  }
  const n = unknowns.length;
  return { offsets: kept.length === n ? backwards(reduced, n) : leastNorm(kept, n), conflicts };
}

/** Adds to a term; what is only rounding goes. */
function add(terms: Map<number, number>, i: number, v: number): void {
  const sum = (terms.get(i) ?? 0) + v;
  if (Math.abs(sum) <= NOTHING) terms.delete(i);
  else terms.set(i, sum);
}

/** The earliest row whose pivot is among the terms; Infinity where there is none. */
function firstRow(terms: ReadonlyMap<number, number>, rowOfPivot: ReadonlyMap<number, number>): number {
  let first = Infinity;
  for (const i of terms.keys()) first = Math.min(first, rowOfPivot.get(i) ?? Infinity);
  return first;
}

/** The only solution, where there are as many independent rows as unknowns: each row holds pivots of later ones alone. */
function backwards(reduced: readonly Reduced[], n: number): number[] {
  const x = new Array<number>(n).fill(0);
  for (let k = reduced.length - 1; k >= 0; k--) {
    const { terms, value, pivot } = reduced[k]!;
    let rest = value;
    for (const [i, v] of terms) if (i !== pivot) rest -= v * x[i]!;
    x[pivot] = rest;
  }
  return x;
}

/** x = Aᵀ y with (A Aᵀ) y = b, by Cholesky's factors; the rows must be independent. */
function leastNorm(
  rows: readonly { readonly terms: ReadonlyMap<number, number>; readonly value: number }[],
  n: number,
): number[] {
  const m = rows.length;
  const dot = (p: ReadonlyMap<number, number>, q: ReadonlyMap<number, number>): number => {
    let s = 0;
    for (const [i, v] of p) s += v * (q.get(i) ?? 0);
    return s;
  };
  const low: number[][] = [];
  for (let i = 0; i < m; i++) {
    const line: number[] = [];
    for (let j = 0; j <= i; j++) {
      let s = dot(rows[i]!.terms, rows[j]!.terms);
      const other = j === i ? line : low[j]!;
      for (let k = 0; k < j; k++) s -= line[k]! * other[k]!;
      line.push(j === i ? Math.sqrt(s) : s / other[j]!);
    }
    low.push(line);
  }
  const y = rows.map((r) => r.value);
  for (let i = 0; i < m; i++) {
    for (let k = 0; k < i; k++) y[i]! -= low[i]![k]! * y[k]!;
    y[i]! /= low[i]![i]!;
  }
  for (let i = m - 1; i >= 0; i--) {
    for (let k = i + 1; k < m; k++) y[i]! -= low[k]![i]! * y[k]!;
    y[i]! /= low[i]![i]!;
  }
  const x = new Array<number>(n).fill(0);
  rows.forEach((r, k) => {
    for (const [i, v] of r.terms) x[i]! += v * y[k]!;
  });
  return x;
}
