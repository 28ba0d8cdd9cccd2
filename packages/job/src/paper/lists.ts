import type { OffCutLeft } from '../off-cuts-left.js';
import { csv } from './csv.js';
import type { PaperData, PaperSide } from './paper-data.js';
import { keptOf, type Quote, quoteOf } from './quote.js';
import { lastSides, matesOf } from './ticket-text.js';

/** A part as lists have it. mm, kg left to the wood. */
export interface ListedPart {
  readonly part: string;
  readonly name: string;
  readonly board: string;
  readonly stock: string;
  /** Along its grain, across it, thickness; the longer side first where it has no grain. */
  readonly size: readonly [number, number, number];
  readonly grain: 'along' | 'none';
  readonly mates: readonly string[];
}

/** A line of the cut list: blanks alike. */
export interface ListedBlank {
  readonly stock: string;
  readonly size: readonly [number, number, number];
  readonly count: number;
  readonly parts: readonly string[];
}

const tenth = (v: number): number => Math.round(v * 10) / 10;

const boxOf = (side: PaperSide, item: string): { readonly w: number; readonly h: number } | null => {
  const points = side.items.find((i) => i.item === item)?.curves.find((c) => c.kind === 'outline')?.points;
  if (!points || points.length === 0) return null;
  const [xs, ys] = [points.map((p) => p.x), points.map((p) => p.y)];
  return { w: Math.max(...xs) - Math.min(...xs), h: Math.max(...ys) - Math.min(...ys) };
};

/** The parts of a job, board by board. */
export function listedParts(data: PaperData): ListedPart[] {
  const mates = matesOf(data);
  return lastSides(data).flatMap((side) =>
    side.items.map((i): ListedPart => {
      const r = data.report.parts.find((p) => p.id === i.part)!;
      const { w, h } = boxOf(side, i.item) ?? { w: r.size[0], h: r.size[1] };
      const [first, second] =
        side.grain === null ? [Math.max(w, h), Math.min(w, h)] : side.grain === 'x' ? [w, h] : [h, w];
      return {
        part: i.part,
        name: r.name,
        board: side.board,
        stock: side.stock,
        size: [tenth(first), tenth(second), Math.round(r.thickness * 100) / 100],
        grain: side.grain === null ? 'none' : 'along',
        mates: mates.get(i.part) ?? [],
      };
    }),
  );
}

/** Blanks to be cut for a job's parts: those of one stock and size together, the largest first. */
export function listedBlanks(parts: readonly ListedPart[]): ListedBlank[] {
  const found = new Map<string, ListedPart[]>();
  for (const p of parts) {
    const key = JSON.stringify([p.stock, ...p.size.map(tenth)]);
    found.set(key, [...(found.get(key) ?? []), p]);
  }
  return [...found.values()]
    .map((alike) => ({
      stock: alike[0]!.stock,
      size: [alike[0]!.size[0], alike[0]!.size[1], tenth(alike[0]!.size[2])] as const,
      count: alike.length,
      parts: alike.map((p) => p.part),
    }))
    .sort(
      (a, b) =>
        (a.stock < b.stock ? -1 : a.stock > b.stock ? 1 : 0) ||
        b.size[0] * b.size[1] - a.size[0] * a.size[1] ||
        (a.parts[0]! < b.parts[0]! ? -1 : 1),
    );
}

/** What is lifted off a board, and where it goes. */
export interface UnloadedBoard {
  readonly board: string;
  readonly parts: readonly string[];
  /** The off-cuts that are kept: where the lower left corner of each lies, and its size. mm */
  readonly offCuts: readonly OffCutLeft[];
}

/** What comes off every board. */
export const unloading = (data: PaperData): UnloadedBoard[] =>
  lastSides(data).map((side) => ({
    board: side.board,
    parts: side.items.map((i) => i.item),
    offCuts: keptOf(side, data.paper.rates),
  }));

/** The lists of a job as data, all in millimetres: what `lists.json` holds. */
export interface Lists {
  readonly format: 'haunch-lists';
  readonly version: 2;
  readonly title: string;
  readonly parts: readonly ListedPart[];
  readonly blanks: readonly ListedBlank[];
  readonly unload: readonly UnloadedBoard[];
  readonly quote: Quote;
}

/** All lists of a job. */
export function listsOf(data: PaperData): Lists {
  const parts = listedParts(data);
  return {
    format: 'haunch-lists',
    version: 2,
    title: data.report.title,
    parts,
    blanks: listedBlanks(parts),
    unload: unloading(data),
    quote: quoteOf(data),
  };
}

/** The lists as comma-separated values, by the name of each file. Lengths in mm. */
export function listsCsv({ parts, blanks, quote }: Lists): ReadonlyMap<string, string> {
  return new Map([
    [
      'parts.csv',
      csv(
        ['part', 'name', 'board', 'stock', 'along mm', 'across mm', 'thickness mm', 'grain', 'joins'],
        parts.map((p) => [p.part, p.name, p.board, p.stock, ...p.size, p.grain, p.mates.join(' ')]),
      ),
    ],
    [
      'cut-list.csv',
      csv(
        ['stock', 'count', 'along mm', 'across mm', 'thickness mm', 'parts'],
        blanks.map((b) => [b.stock, b.count, ...b.size, b.parts.join(' ')]),
      ),
    ],
    [
      'quote.csv',
      csv(
        ['kind', 'what', 'amount', 'unit', 'price', 'currency'],
        [
          ...quote.lines.map((l) => [l.kind, l.what, l.amount, l.unit, l.price ?? '', quote.currency ?? '']),
          ...(quote.total === null
            ? []
            : (['costs', 'markUp', 'tax', 'total'] as const).map((k) => [
                k === 'markUp' ? 'mark-up' : k,
                '',
                '',
                '',
                quote[k] ?? '',
                quote.currency ?? '',
              ])),
        ],
      ),
    ],
  ]);
}
