import {
  type Drawing,
  type DrawingImport,
  type FindPartsOptions,
  importDrawing,
  readDxf,
  readSvg,
  thicknessSupport,
  type UnitName,
} from '@haunch/drawing';
import { ringArea, ringBounds, ringPerimeter, ringSegments, snap } from '@haunch/geometry';
import { partsOfMaster, readMaster } from '@haunch/joinery';
import {
  type Contour,
  type Diagnostic,
  fail,
  type Master,
  type Outcome,
  ok,
  type Part,
  settle,
} from '@haunch/model';
import { z } from 'zod';
import { sourceKind } from './diagnostics.js';
import { drawnThickness } from './drawn-thickness.js';
import { DiagnosticSchema } from './report-schema.js';

const mm = z.number().describe('millimetres');
const outlineSchema = z.strictObject({
  id: z.string(),
  width: mm,
  height: mm,
  perimeter: mm,
  area: z.number().describe('mm², inside the curve'),
  lines: z.number().int(),
  arcs: z.number().int(),
  vertices: z.array(z.tuple([mm, mm, z.number().describe('bulge of the segment that starts here')])),
});

/** What `haunch read --json` prints. */
export const ReadResultSchema = z.strictObject({
  format: z.literal('haunch-read'),
  version: z.literal(1),
  file: z.string(),
  kind: z.enum(['master', 'drawing']),
  title: z.string(),
  units: z.strictObject({ name: z.string(), basis: z.string(), reason: z.string() }),
  thickness: z.strictObject({
    value: mm.nullable(),
    reasons: z.array(z.string()),
    candidates: z.array(z.strictObject({ value: mm, support: z.number(), reasons: z.array(z.string()) })),
  }),
  parts: z.array(
    z.strictObject({
      id: z.string(),
      name: z.string(),
      thickness: mm.nullable(),
      area: z.number().describe('mm² of the face, through cuts and through holes taken off'),
      grain: z.enum(['u', 'v']).nullable(),
      cutFace: z.enum(['n-', 'n+']),
      stock: z.string().nullable(),
      outline: outlineSchema,
      through: z.array(outlineSchema),
      pockets: z.array(outlineSchema.extend({ face: z.enum(['n-', 'n+']), depth: mm })),
      holes: z.array(
        z.strictObject({
          id: z.string(),
          x: mm,
          y: mm,
          diameter: mm,
          face: z.enum(['n-', 'n+']),
          depth: z.union([mm, z.literal('through')]),
        }),
      ),
      from: z.array(z.string()),
    }),
  ),
  features: z.array(
    z.strictObject({
      id: z.string(),
      part: z.string(),
      kind: z.enum(['through cut', 'pocket', 'hole', 'edges on marks']),
      says: z.string(),
    }),
  ),
  mates: z.array(
    z.strictObject({ id: z.string(), type: z.string(), slotPart: z.string(), enteringPart: z.string() }),
  ),
  layers: z.array(z.strictObject({ name: z.string(), off: z.boolean() })),
  families: z
    .array(z.strictObject({ parts: z.array(z.string()), mirrored: z.array(z.string()) }))
    .describe('which parts are the same, turned or turned over'),
  repairs: z.array(
    z.strictObject({
      id: z.string().describe('the name by which the repair is undone'),
      kind: z.string(),
      x: mm,
      y: mm,
      layer: z.string(),
      lines: z.array(z.number().int()).describe('lines of the file'),
      deviation: mm.describe('how far the drawn line moved at most'),
    }),
  ),
  leftOut: z.array(z.strictObject({ why: z.string(), layer: z.string(), lines: z.array(z.number().int()) })),
  diagnostics: z.array(DiagnosticSchema),
});

/** A drawing or master described. */
export type ReadResult = z.infer<typeof ReadResultSchema>;

function curve(c: Contour): z.infer<typeof outlineSchema> {
  const box = ringBounds(c.ring);
  const segments = ringSegments(c.ring);
  return {
    id: c.id,
    width: snap(box.maxX - box.minX),
    height: snap(box.maxY - box.minY),
    perimeter: snap(ringPerimeter(c.ring)),
    area: snap(Math.abs(ringArea(c.ring))),
    lines: segments.filter((s) => s.kind === 'line').length,
    arcs: segments.filter((s) => s.kind === 'arc').length,
    vertices: c.ring.vertices.map((v) => [snap(v.x), snap(v.y), v.bulge]),
  };
}

const describePart = (p: Part): ReadResult['parts'][number] => ({
  id: p.id,
  name: p.name,
  thickness: p.thickness,
  area: snap(
    ringArea(p.outline.ring) -
      p.through.reduce((sum, t) => sum + ringArea(t.ring), 0) -
      p.holes.reduce((sum, h) => sum + (h.depth === 'through' ? (Math.PI * h.diameter ** 2) / 4 : 0), 0),
  ),
  grain: p.grain,
  cutFace: p.cutFace,
  stock: p.stock,
  outline: curve(p.outline),
  through: p.through.map(curve),
  pockets: p.pockets.map((c) => ({ ...curve(c), face: c.face, depth: c.depth })),
  holes: p.holes.map((h) => ({
    id: h.id,
    x: h.centre.x,
    y: h.centre.y,
    diameter: h.diameter,
    face: h.face,
    depth: h.depth,
  })),
  from: [...p.from],
});

function featuresOf(parts: readonly Part[], master: Master | null): ReadResult['features'] {
  return parts.flatMap((p) => {
    const source = master?.parts.find((m) => m.id === p.id);
    const loops = source
      ? [source.outline, ...source.through.map((t) => t.loop), ...source.pockets.map((t) => t.loop)]
      : [];
    const marked = loops.flatMap((l) => l.segments.filter((s) => s.on !== undefined).flatMap((s) => s.on!));
    return [
      ...p.through.map((t) => {
        const c = curve(t);
        return {
          id: t.id,
          part: p.id,
          kind: 'through cut' as const,
          says: `${c.width} × ${c.height} mm, through`,
        };
      }),
      ...p.pockets.map((t) => {
        const c = curve(t);
        return {
          id: t.id,
          part: p.id,
          kind: 'pocket' as const,
          says: `${c.width} × ${c.height} mm, ${t.depth} mm deep from ${t.face}`,
        };
      }),
      ...p.holes.map((h) => ({
        id: h.id,
        part: p.id,
        kind: 'hole' as const,
        says: `Ø ${h.diameter} mm, ${h.depth === 'through' ? 'through' : `${h.depth} mm deep from ${h.face}`}`,
      })),
      ...(marked.length > 0
        ? [
            {
              id: `${p.id}.marks`,
              part: p.id,
              kind: 'edges on marks' as const,
              says: `${marked.length} edges follow thickness, on ${[...new Set(marked)].sort().join(', ')}`,
            },
          ]
        : []),
    ];
  });
}

function describeMaster(master: Master, file: string, diagnostics: ReadResult['diagnostics']): ReadResult {
  const parts = partsOfMaster(master);
  const all = [...new Set(master.parts.map((p) => p.thickness))].sort((a, b) => a - b);
  return {
    format: 'haunch-read',
    version: 1,
    file,
    kind: 'master',
    title: master.title,
    units: { name: 'mm', basis: 'stated', reason: 'a master is always in millimetres' },
    thickness: {
      value: master.designThickness,
      reasons: [
        `the master states ${master.designThickness} mm as its usual design thickness; its parts are drawn for ${all.join(', ')} mm`,
      ],
      candidates: thicknessSupport(parts).map((c) => ({ ...c, reasons: [...c.reasons] })),
    },
    parts: parts.map(describePart),
    features: featuresOf(parts, master),
    mates: master.mates.map(({ id, type, slotPart, enteringPart }) => ({ id, type, slotPart, enteringPart })),
    layers: [],
    families: [],
    repairs: [],
    leftOut: [],
    diagnostics,
  };
}

function describeDrawing(
  drawing: Drawing,
  read: DrawingImport,
  file: string,
  diagnostics: ReadResult['diagnostics'],
): ReadResult {
  const { parts } = read;
  const { value, reasons, candidates } = drawnThickness(drawing, parts);
  return {
    format: 'haunch-read',
    version: 1,
    file,
    kind: 'drawing',
    title: file,
    units: { name: drawing.unit.name, basis: drawing.unit.basis, reason: drawing.unit.reason },
    thickness: {
      value,
      reasons: [...reasons],
      candidates: candidates.map((c) => ({ value: c.value, support: c.support, reasons: [...c.reasons] })),
    },
    parts: parts.map(describePart),
    features: featuresOf(parts, null),
    mates: [],
    layers: drawing.layers.map((l) => ({ name: l.name, off: l.off || l.frozen })),
    families: read.families.map((f) => ({ parts: [...f.parts], mirrored: [...f.mirrored] })),
    repairs: read.repairs.map((r) => ({
      id: r.id,
      kind: r.kind,
      x: r.at.x,
      y: r.at.y,
      layer: r.layer,
      lines: linesOf(r.entities),
      deviation: r.deviation,
    })),
    leftOut: read.leftOut.map((l) => ({ why: l.why, layer: l.layer, lines: linesOf(l.entities) })),
    diagnostics,
  };
}

const linesOf = (entities: readonly { readonly line: number }[]): number[] => [
  ...new Set(entities.map((e) => e.line)),
];

/** How a drawing is to be read: its unit where it states none, and how parts are to be found in it. */
export interface DescribeOptions extends FindPartsOptions {
  readonly unit?: UnitName;
}

/** A drawing with what it was read as. */
export interface ImportedDrawing {
  readonly drawing: Drawing;
  /** What was read of it, even where its diagnostics hold errors. */
  readonly read: DrawingImport;
}

/**
 * Reads a drawing and finds its parts, with an account of what was repaired; what was not understood is in the
 * account as well. Refused only where the file itself cannot be read. The file's ending decides how it is read.
 */
export function importFile(
  content: string | Uint8Array,
  file: string,
  { unit, ...options }: DescribeOptions = {},
): Outcome<ImportedDrawing> {
  if (!/\.(?:dxf|svg)$/i.test(file)) return fail(sourceKind(file, file, 1));
  const readDrawing = /\.svg$/i.test(file) ? readSvg : readDxf;
  const drawing = readDrawing(content, { file, ...(unit === undefined ? {} : { unit }) });
  if (!drawing.ok) return drawing;
  return ok({ drawing: drawing.value, read: importDrawing(drawing.value, options) }, drawing.diagnostics);
}

/** Says what is in a master or a drawing; the basis of `haunch read`. The file's ending decides which it is. */
export function describeFile(
  content: string | Uint8Array,
  file: string,
  options: DescribeOptions = {},
): Outcome<ReadResult> {
  if (/\.json$/i.test(file)) {
    const master = readMaster(
      typeof content === 'string' ? content : new TextDecoder().decode(content),
      file,
    );
    if (!master.ok) return master;
    return ok(
      describeMaster(
        master.value,
        file,
        master.diagnostics.map((d) => ({ ...d, locus: { ...d.locus } })),
      ),
      master.diagnostics,
    );
  }
  const imported = importFile(content, file, options);
  return imported.ok ? describeImport(imported.value, imported.diagnostics) : imported;
}

/** Says what is in a drawing that was read already; `said` is what was said on reading the file. */
export function describeImport(
  { drawing, read }: ImportedDrawing,
  said: readonly Diagnostic[],
): Outcome<ReadResult> {
  return settle(describePartly({ drawing, read }, said), [...said, ...read.diagnostics]);
}

/** What was understood of a drawing, even where not all of it was: its diagnostics hold the errors, its parts what is sound. */
export function describePartly({ drawing, read }: ImportedDrawing, said: readonly Diagnostic[]): ReadResult {
  const copies = [...said, ...read.diagnostics].map((d) => ({ ...d, locus: { ...d.locus } }));
  return describeDrawing(drawing, read, drawing.file, copies);
}
