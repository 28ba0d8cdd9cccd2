import { formatDxf, formatSvg, pictureOfParts, sheetOfParts } from '@haunch/drawing';
import {
  findThickness,
  type LearntFollowing,
  learnFromTwo,
  refitAsLearnt,
  thicknessUnconfirmed,
} from '@haunch/joinery';
import { type Diagnostic, fail, type Outcome, ok, type Part, settle } from '@haunch/model';
import { type DescribeOptions, importFile } from './describe-file.js';
import { bareDrawing, outputKind } from './diagnostics.js';
import { sayingsOf } from './drawn-thickness.js';

/** A drawing of a design for one thickness, as a file. */
export interface DrawingFor {
  readonly content: string | Uint8Array;
  readonly file: string;
  /** What it was drawn for, mm; where left out, only what the drawing itself states counts. */
  readonly thickness?: number;
}

/** What `haunch refit` is asked for with two drawings of one design. Lengths mm. */
export interface TwoDrawingsRequest {
  readonly first: DrawingFor;
  readonly second: DrawingFor;
  readonly to: number;
  readonly leastWeb?: number;
  /** How both are to be read. */
  readonly read?: DescribeOptions;
  /** Name of the output: drawing (.dxf) or picture (.svg); nothing is written where left out. */
  readonly out?: string;
}

/** The first drawing at a third thickness. */
export interface TwoDrawingsRefit {
  readonly parts: readonly Part[];
  readonly learnt: LearntFollowing;
  /** How many corners moved, by part. */
  readonly moved: Readonly<Record<string, number>>;
  /** The text of the output that was asked for. */
  readonly text: string | null;
}

interface DrawnParts {
  readonly parts: readonly Part[];
  readonly thickness: number;
}

function drawnIn({ content, file, thickness }: DrawingFor, read: DescribeOptions): Outcome<DrawnParts> {
  const imported = importFile(content, file, read);
  if (!imported.ok) return imported;
  const said: Diagnostic[] = [...imported.diagnostics, ...imported.value.read.diagnostics];
  if (said.some((d) => d.level === 'error')) return { ok: false, diagnostics: said };
  const { parts } = imported.value.read;
  const stated = [...new Set(parts.flatMap((p) => (p.thickness === null ? [] : [p.thickness])))];
  const meant = thickness ?? (stated.length === 1 ? stated[0] : undefined);
  if (meant === undefined) {
    const finding = findThickness(parts, { said: sayingsOf(imported.value.drawing) });
    return fail(...said, thicknessUnconfirmed(finding, file));
  }
  const own = parts.map((p) => (p.thickness === null ? { ...p, thickness: meant } : p));
  return ok({ parts: own, thickness: meant }, said);
}

function movedCorners(before: readonly Part[], after: readonly Part[]): Record<string, number> {
  const corners = (p: Part) =>
    [p.outline, ...p.through, ...p.pockets]
      .flatMap((c) => c.ring.vertices)
      .concat(p.holes.map((h) => ({ ...h.centre, bulge: 0 })));
  return Object.fromEntries(
    before.map((p, i) => {
      const there = corners(after[i]!);
      return [p.id, corners(p).filter((v, k) => v.x !== there[k]?.x || v.y !== there[k]?.y).length];
    }),
  );
}

/**
 * Learns from two drawings of one design at two thicknesses what follows thickness, and gives the first at a third one.
 * Neither thickness is guessed: each is said, or stated by its drawing. Everything said names the file that it is about.
 */
export function refitByTwo({
  first,
  second,
  to,
  leastWeb,
  read,
  out,
}: TwoDrawingsRequest): Outcome<TwoDrawingsRefit> {
  const ending = out === undefined ? null : /\.(dxf|svg)$/i.exec(out)?.[1]?.toLowerCase();
  if (out !== undefined && /\.json$/i.test(out)) return fail(bareDrawing(first.file));
  if (out !== undefined && ending === undefined) return fail(outputKind(out));
  const drawn = [first, second].map((d) => drawnIn(d, read ?? {}));
  const [a, b] = drawn;
  if (!a!.ok || !b!.ok) return { ok: false, diagnostics: drawn.flatMap((d) => d.diagnostics) };
  const inFile = (d: Diagnostic): Diagnostic => ({ ...d, locus: { file: first.file, ...d.locus } });
  const said: Diagnostic[] = drawn.flatMap((d) => d.diagnostics);
  const learnt = learnFromTwo(a!.value, b!.value);
  said.push(...learnt.diagnostics.map(inFile));
  if (!learnt.ok) return { ok: false, diagnostics: said };
  const refitted = refitAsLearnt(
    a!.value.parts,
    learnt.value,
    to,
    leastWeb === undefined ? {} : { leastWeb },
  );
  said.push(...refitted.diagnostics.map(inFile));
  if (!refitted.ok) return { ok: false, diagnostics: said };
  const parts = refitted.value;
  const title = `${first.file}, ${+a!.value.thickness.toFixed(3)} → ${+to.toFixed(3)} mm, by ${second.file}`;
  const text =
    ending === 'dxf'
      ? formatDxf(sheetOfParts(parts, { title, arrange: 'as they lie' }))
      : ending === 'svg'
        ? formatSvg(pictureOfParts(parts, { title }))
        : null;
  return settle({ parts, learnt: learnt.value, moved: movedCorners(a!.value.parts, parts), text }, said);
}
