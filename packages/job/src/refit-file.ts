import { formatDxf, formatSvg, pictureOfParts, sheetOfParts } from '@haunch/drawing';
import {
  defaultAllowances,
  findJoints,
  fitParts,
  formatMaster,
  partsOfMaster,
  readMaster,
  refitMaster,
} from '@haunch/joinery';
import { type Diagnostic, fail, type Master, type Outcome, ok, type ReliefForm } from '@haunch/model';
import { bareDrawing, masterKeepsNoClearance, outputKind, unknownPart } from './diagnostics.js';

/** What `haunch refit` is asked for. Lengths mm. */
export interface RefitRequest {
  readonly content: string;
  readonly file: string;
  /** New thickness of every part that `parts` does not name. */
  readonly thickness: number;
  readonly parts: Readonly<Record<string, number>>;
  /** Total clearance of plate in slot; 0 leaves walls and faces touching. */
  readonly clearance: number;
  /** Corner reliefs for a cutter of this radius; none when left out. */
  readonly relief?: { readonly radius: number; readonly surplus: number; readonly form: ReliefForm };
  /** Name of the output: its ending chooses master (.json), drawing (.dxf) or picture (.svg). */
  readonly out: string;
}

/** A refitted master and the text of the file asked for. */
export interface RefitResult {
  readonly master: Master;
  readonly text: string;
  /** How many segment ends, hole centres and arc centres moved, by part. */
  readonly moved: Readonly<Record<string, number>>;
}

function movedPoints(before: Master, after: Master): Record<string, number> {
  const points = (m: Master, i: number): number[] => {
    const p = m.parts[i]!;
    const loops = [p.outline, ...p.through.map((t) => t.loop), ...p.pockets.map((t) => t.loop)];
    return [...loops.flatMap((l) => l.segments.flatMap((s) => s.to)), ...p.holes.flatMap((h) => h.centre)];
  };
  return Object.fromEntries(
    before.parts.map((p, i) => {
      const [a, b] = [points(before, i), points(after, i)];
      let n = 0;
      for (let k = 0; k < a.length; k += 2) if (a[k] !== b[k] || a[k + 1] !== b[k + 1]) n++;
      return [p.id, n];
    }),
  );
}

/**
 * Refits a master to new thicknesses and gives the text of the file asked for. A master is written with walls
 * and faces touching (clearance belongs to a job); drawings and pictures show each part from its cut face. A drawing
 * is refused here: `refitDrawing` refits it by what is recognised in it.
 */
export function refitFile(request: RefitRequest): Outcome<RefitResult> {
  if (/\.(?:dxf|svg)$/i.test(request.file)) return fail(bareDrawing(request.file));
  const read = readMaster(request.content, request.file);
  if (!read.ok) return read;
  const master = read.value;
  const unknown = Object.keys(request.parts).filter((id) => !master.parts.some((p) => p.id === id));
  if (unknown.length > 0)
    return fail(
      ...unknown.map((id) =>
        unknownPart(
          id,
          master.parts.map((p) => p.id),
          request.file,
        ),
      ),
    );
  const thicknesses = Object.fromEntries(
    master.parts.map((p) => [p.id, request.parts[p.id] ?? request.thickness]),
  );
  const refitted = refitMaster(master, { thicknesses });
  if (!refitted.ok) return refitted;
  const said: Diagnostic[] = [...read.diagnostics, ...refitted.diagnostics];
  const moved = movedPoints(master, refitted.value);
  if (/\.json$/i.test(request.out)) {
    if (request.clearance !== 0 || request.relief) said.push(masterKeepsNoClearance(request.out));
    return ok({ master: refitted.value, text: formatMaster(refitted.value), moved }, said);
  }
  const ending = /\.(dxf|svg)$/i.exec(request.out)?.[1]?.toLowerCase();
  if (ending === undefined) return fail(outputKind(request.out));
  let parts = partsOfMaster(refitted.value);
  if (request.clearance !== 0 || request.relief) {
    const usual = defaultAllowances('snug', request.clearance);
    const none = { wanted: 0, window: [0, 0] as const };
    const joinery = findJoints(
      refitted.value,
      request.clearance === 0 ? { thickness: none, ends: none, seat: none } : usual,
    );
    if (!joinery.ok) return joinery;
    const fitted = fitParts(refitted.value, joinery.value, { relief: request.relief ?? null });
    if (!fitted.ok) return fitted;
    said.push(...joinery.diagnostics, ...fitted.diagnostics);
    parts = [...fitted.value];
  }
  const text =
    ending === 'dxf'
      ? formatDxf(sheetOfParts(parts, { title: refitted.value.title, arrange: 'rows' }))
      : formatSvg(pictureOfParts(parts, { title: refitted.value.title }));
  return ok({ master: refitted.value, text, moved }, said);
}
