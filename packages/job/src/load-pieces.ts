import { findParts, type LayerRule, type LayerRules, readDxf, readSvg } from '@haunch/drawing';
import { readMaster } from '@haunch/joinery';
import { type Diagnostic, type Master, type Outcome, type Part, settle } from '@haunch/model';
import { noThickness, sameId, sourceKind, sourceMissing, unknownName } from './diagnostics.js';
import type { Job } from './job.js';
import type { JobPiece } from './job-schema.js';
import { mergePieces, type PieceOfMaster } from './merge-pieces.js';
import { type SourceReader, textOf } from './source-reader.js';

/** What the job's pieces consist of. */
export interface Pieces {
  /** All masters' parts in one, ids apart; null when the job has drawings only. */
  readonly master: Master | null;
  /** Parts of drawings, which have no marks and are cut as drawn. */
  readonly loose: readonly Part[];
  /** The stock that each part is cut from, by part id; parts that may come from any board are absent. */
  readonly stock: ReadonlyMap<string, string>;
  /** The ids of the parts that stand in one world, for every copy of a master. */
  readonly standing: readonly (readonly string[])[];
}

/** Rules as the job writes them, as the drawing takes them. */
const layerRules = (layers: JobPiece['layers']): LayerRules =>
  Object.fromEntries(
    Object.entries(layers).map(([name, rule]): [string, LayerRule] => [
      name,
      rule.as === 'pocket' || rule.as === 'hole'
        ? { as: rule.as, depth: rule.depth, face: rule.under ? 'n-' : 'n+' }
        : rule,
    ]),
  );

const withIds = (p: Part, id: string): Part => {
  if (id === p.id) return p;
  const renamed = (tag: string) => (tag.startsWith(p.id) ? `${id}${tag.slice(p.id.length)}` : tag);
  const contour = <C extends Part['outline']>(c: C): C => {
    const ring = (r: typeof c.ring) => ({
      vertices: r.vertices.map((v) => (v.tag === undefined ? v : { ...v, tag: renamed(v.tag) })),
    });
    return { ...c, id: renamed(c.id), ring: ring(c.ring), bare: ring(c.bare) };
  };
  return {
    ...p,
    id,
    outline: contour(p.outline),
    through: p.through.map(contour),
    pockets: p.pockets.map(contour),
    holes: p.holes.map((h) => ({ ...h, id: renamed(h.id) })),
  };
};

/**
 * Reads every file that the job names and makes copies for its counts: the first copy keeps its ids, the
 * others get `/2`, `/3` …
 */
export function loadPieces(job: Job, source: SourceReader): Outcome<Pieces> {
  const problems: Diagnostic[] = [];
  const masters: PieceOfMaster[] = [];
  const loose: Part[] = [];
  const stock = new Map<string, string>();
  job.settings.pieces.forEach((piece, index) => {
    const line = job.lineOf(['pieces', index, 'source']);
    const prefix = piece.prefix ?? '';
    const copies = Array.from({ length: piece.count }, (_, k) => (k === 0 ? '' : `/${k + 1}`));
    const content = source(piece.source);
    if (content === undefined) {
      problems.push(sourceMissing(piece.source, job.file, line));
      return;
    }
    let ids: string[];
    let theirStock: (id: string) => string | null;
    if (/\.json$/i.test(piece.source)) {
      const master = readMaster(textOf(content), piece.source);
      problems.push(...master.diagnostics);
      if (!master.ok) return;
      for (const suffix of copies) masters.push({ master: master.value, prefix, suffix });
      ids = master.value.parts.map((p) => p.id);
      theirStock = (id) => master.value.parts.find((p) => p.id === id)!.stock;
    } else if (/\.(?:dxf|svg)$/i.test(piece.source)) {
      const readDrawing = /\.svg$/i.test(piece.source) ? readSvg : readDxf;
      const drawing = readDrawing(content, {
        file: piece.source,
        ...(piece.unit === undefined ? {} : { unit: piece.unit }),
      });
      problems.push(...drawing.diagnostics);
      if (!drawing.ok) return;
      const parts = findParts(drawing.value, {
        layers: layerRules(piece.layers),
        hiddenLayers: piece.hiddenLayers,
        keep: piece.keep,
        ...(piece.thickness === undefined ? {} : { thickness: piece.thickness }),
        ...(piece.joinWithin === undefined ? {} : { joinWithin: piece.joinWithin }),
      });
      problems.push(...parts.diagnostics);
      if (!parts.ok) return;
      for (const p of parts.value) {
        if (p.thickness === null) problems.push(noThickness(p.id, piece.source));
        for (const suffix of copies) loose.push(withIds(p, `${prefix}${p.id}${suffix}`));
      }
      ids = parts.value.map((p) => p.id);
      theirStock = (id) => parts.value.find((p) => p.id === id)!.stock;
    } else {
      problems.push(sourceKind(piece.source, job.file, line));
      return;
    }
    for (const id of Object.keys(piece.stock))
      if (!ids.includes(id))
        problems.push(
          unknownName(
            'part',
            id,
            `pieces[${index}].stock`,
            job.file,
            job.lineOf(['pieces', index, 'stock', id]),
          ),
        );
    for (const id of ids) {
      const name = piece.stock[id] ?? theirStock(id);
      if (name !== null) for (const suffix of copies) stock.set(`${prefix}${id}${suffix}`, name);
    }
  });
  const all = [
    ...masters.flatMap((m) => m.master.parts.map((p) => `${m.prefix}${p.id}${m.suffix}`)),
    ...loose.map((p) => p.id),
  ];
  for (const id of new Set(all.filter((id, i) => all.indexOf(id) !== i)))
    problems.push(sameId('parts', id, job.file));
  const standing = masters.map((m) => m.master.parts.map((p) => `${m.prefix}${p.id}${m.suffix}`));
  return settle(
    { master: masters.length > 0 ? mergePieces(masters) : null, loose, stock, standing },
    problems,
  );
}
