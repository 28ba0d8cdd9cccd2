import {
  curvesOfPart,
  formatDxf,
  formatSvg,
  labelPlace,
  type Picture,
  type PictureLabel,
  sheetOfParts,
} from '@haunch/drawing';
import { type Box, ringBounds } from '@haunch/geometry';
import {
  findThickness,
  formatFeatureTable,
  nothingFollowsIn,
  readFeatureTable,
  recogniseFeatures,
  refitByFeatures,
  refitNotes,
  type ThicknessChange,
  type ThicknessFinding,
  thicknessNotes,
  thicknessUnconfirmed,
} from '@haunch/joinery';
import { type Diagnostic, type FeatureTable, fail, type Outcome, ok, type Part } from '@haunch/model';
import { type DescribeOptions, importFile } from './describe-file.js';
import { bareDrawing, outputKind } from './diagnostics.js';
import { sayingsOf } from './drawn-thickness.js';

/** What `haunch refit` is asked for on a drawing without marks. Lengths mm. */
export interface DrawingRefitRequest {
  readonly content: string | Uint8Array;
  readonly file: string;
  /** Thicknesses that the drawing was made for; where left out, only what the drawing itself states counts. */
  readonly from: readonly number[];
  /** The new thickness of each of those, in their order. */
  readonly to: readonly number[];
  /** A table exported before and corrected by hand; the parts are recognised anew where it is left out. */
  readonly table?: { readonly text: string; readonly file: string };
  readonly leastWeb?: number;
  /** How the drawing is to be read. */
  readonly read?: DescribeOptions;
  /** Name of the output: drawing (.dxf) or picture before and after (.svg); nothing is written where left out. */
  readonly out?: string;
}

/** A drawing refitted by what was recognised in it. */
export interface DrawingRefit {
  readonly before: readonly Part[];
  readonly parts: readonly Part[];
  readonly finding: ThicknessFinding;
  /** The features at the thickness that was drawn. */
  readonly table: FeatureTable;
  /** The same as text, to correct and give back. */
  readonly tableText: string;
  /** How many corners moved, by part. */
  readonly moved: Readonly<Record<string, number>>;
  /** The text of the output that was asked for. */
  readonly text: string | null;
}

const MARGIN = 30;
/** So many letters are about as wide as the picture. */
const LETTERS = 110;
/** How wide a letter is by its height. */
const LETTER_WIDTH = 0.58;
const figure = (v: number): string => String(Number(v.toFixed(3)));

/** The refitted parts where they lie, what was drawn as a thin line over them, and what changed in each. */
function pictureOfRefit(
  before: readonly Part[],
  after: readonly Part[],
  was: FeatureTable,
  is: FeatureTable,
  title: string,
): Picture {
  const boxes = [...before, ...after].map((p) => ringBounds(p.outline.ring));
  const bounds: Box = {
    minX: Math.min(...boxes.map((b) => b.minX)) - MARGIN,
    minY: Math.min(...boxes.map((b) => b.minY)) - MARGIN,
    maxX: Math.max(...boxes.map((b) => b.maxX)) + MARGIN,
    maxY: Math.max(...boxes.map((b) => b.maxY)) + MARGIN,
  };
  const size = (bounds.maxX - bounds.minX) / LETTERS;
  // One line for all features of a part that change alike.
  const labels = (part: Part): PictureLabel[] => {
    const lines = new Map<string, number>();
    was.features.forEach((f, i) => {
      const now = is.features[i]!;
      if (f.part !== part.id || f.size === now.size) return;
      const text = `${f.kind} ${figure(f.size)} → ${figure(now.size)}`;
      lines.set(text, (lines.get(text) ?? 0) + 1);
    });
    if (lines.size === 0) return [];
    const { at, room } = labelPlace(part);
    const longest = Math.max(...[...lines].map(([text, n]) => `${n} × ${text}`.length));
    const fits = Math.min(room / (lines.size + 1), (2 * room) / (longest * LETTER_WIDTH));
    const height = Math.max(size / 4, Math.min(size, fits));
    return [...lines].map(([text, n], k) => ({
      at: { x: at.x, y: at.y + ((lines.size - 1) / 2 - k) * 1.4 * height },
      text: `${n} × ${text}`,
      height,
    }));
  };
  return {
    title,
    bounds,
    groups: after.map((p, i) => ({
      id: p.id,
      class: 'part',
      curves: [
        ...curvesOfPart(p),
        ...[before[i]!.outline, ...before[i]!.through, ...before[i]!.pockets].map((c) => ({
          ring: c.ring,
          style: 'drawn' as const,
          title: `${c.id} as drawn`,
        })),
      ],
      labels: labels(p),
    })),
  };
}

/**
 * Refits a drawing without marks by the features that are recognised in it, or by a table of them that was corrected by
 * hand, and gives the text of the file asked for. Never resized on a likelihood: without `from`, and where the drawing
 * does not state its thickness itself (group 39 of its outlines), the candidates are named and nothing is done. Refused
 * as well where a new thickness is given and nothing follows the old one. Parts are not checked against each other.
 * @throws RangeError where `from` and `to` are given and are not of one length.
 */
export function refitDrawing(request: DrawingRefitRequest): Outcome<DrawingRefit> {
  const { file, out } = request;
  const ending = out === undefined ? null : /\.(dxf|svg)$/i.exec(out)?.[1]?.toLowerCase();
  if (out !== undefined && /\.json$/i.test(out)) return fail(bareDrawing(file));
  if (out !== undefined && ending === undefined) return fail(outputKind(out));
  const imported = importFile(request.content, file, request.read ?? {});
  if (!imported.ok) return imported;
  const said: Diagnostic[] = [...imported.diagnostics, ...imported.value.read.diagnostics];
  if (said.some((d) => d.level === 'error')) return { ok: false, diagnostics: said };
  const drawn = imported.value.read.parts;
  const finding = findThickness(drawn, { said: sayingsOf(imported.value.drawing) });
  said.push(...thicknessNotes(finding, file));
  const stated = [...new Set(drawn.flatMap((p) => (p.thickness === null ? [] : [p.thickness])))].sort(
    (a, b) => a - b,
  );
  const given = request.table ? readFeatureTable(request.table.text, request.table.file) : null;
  if (given && !given.ok) return { ok: false, diagnostics: [...said, ...given.diagnostics] };
  const from = request.from.length > 0 ? request.from : (given?.value.thicknesses ?? stated);
  if (from.length === 0) return { ok: false, diagnostics: [...said, thicknessUnconfirmed(finding, file)] };
  const changes = changesOf(from, request);
  const [only] = from.length === 1 ? from : [];
  const before = drawn.map((p) =>
    p.thickness === null && only !== undefined ? { ...p, thickness: only } : p,
  );
  const recognised = given ?? recogniseFeatures(before, { thicknesses: from, file });
  if (!recognised.ok) return recognised;
  if (!given) said.push(...recognised.diagnostics);
  const table = recognised.value;
  const refitted = refitByFeatures(
    before,
    table,
    changes,
    request.leastWeb === undefined ? {} : { leastWeb: request.leastWeb },
  );
  said.push(...refitted.diagnostics);
  if (!refitted.ok) return { ok: false, diagnostics: said };
  const nothing = request.to.length > 0 ? nothingFollowsIn(table, file) : null;
  if (nothing !== null)
    return { ok: false, diagnostics: [...said.filter((d) => d.code !== nothing.code), nothing] };
  const { parts, table: after, moved } = refitted.value;
  if (Object.values(moved).some((n) => n > 0)) said.push(...refitNotes(parts.length, file));
  const title = `${file}, ${changes.map((c) => `${figure(c.from)} → ${figure(c.to)} mm`).join(', ')}`;
  const text =
    ending === 'dxf'
      ? formatDxf(sheetOfParts(parts, { title, arrange: 'as they lie' }))
      : ending === 'svg' && parts.length > 0
        ? formatSvg(pictureOfRefit(before, parts, table, after, title))
        : null;
  return ok({ before, parts, finding, table, tableText: formatFeatureTable(table), moved, text }, said);
}

/** Old and new thicknesses in pairs; of several that only the drawing or the table names, none: the refit asks for them. */
function changesOf(from: readonly number[], { from: asked, to }: DrawingRefitRequest): ThicknessChange[] {
  if (to.length === 0) return from.map((t) => ({ from: t, to: t }));
  if (to.length === from.length) return from.map((t, i) => ({ from: t, to: to[i]! }));
  if (asked.length > 0)
    throw new RangeError(`refitDrawing: ${from.length} thicknesses drawn, and ${to.length} new ones given`);
  return [];
}
