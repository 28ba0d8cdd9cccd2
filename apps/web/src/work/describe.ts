import { loadClip, ringBounds } from '@haunch/geometry';
import { assemblySvg, describeFile, describePartly, importFile, type ReadResult } from '@haunch/job';
import { partsOfMaster, readMaster } from '@haunch/joinery';
import type { Contour, Master, Part } from '@haunch/model';
import { jobOf } from '../job/job-document.js';
import { circlePath, edgePath, ringPath } from '../ui/ring-path.js';
import type { DescribedSource, DrawnCurve, DrawnPart, FollowingEdge } from './drawing-wire.js';
import { readingOf } from './piece-reading.js';
import { sourcesOf } from './sources.js';
import type { Reply, WireDocument } from './wire.js';

/** The marks of every edge of a master, by the edge's id. */
function marksOfEdges(master: Master): ReadonlyMap<string, readonly string[]> {
  const out = new Map<string, readonly string[]>();
  for (const p of master.parts)
    for (const { id, loop } of [{ id: `${p.id}.outline`, loop: p.outline }, ...p.through, ...p.pockets])
      loop.segments.forEach((s, k) => {
        if (s.on !== undefined) out.set(`${id}/e${k}`, typeof s.on === 'string' ? [s.on] : s.on);
      });
  return out;
}

function drawnPart(part: Part, read: ReadResult, master: Master | null): DrawnPart {
  const { minX, minY, maxX, maxY } = ringBounds(part.outline.ring);
  const says = (id: string): string =>
    read.features.find((f) => f.id === id && f.part === part.id)?.says ?? '';
  const curve = (c: Contour, kind: DrawnCurve['kind']): DrawnCurve => ({
    id: c.id,
    kind,
    d: ringPath(c.ring.vertices, minX, maxY),
    says: says(c.id),
  });
  const marks = master ? marksOfEdges(master) : new Map<string, readonly string[]>();
  const terms = new Map(master?.marks.map((m) => [m.id, m.terms]));
  const reasons = new Map(master?.found?.reasons.map((r) => [r.edge, r.reason]));
  const edges = [part.outline, ...part.through, ...part.pockets].flatMap((c) =>
    c.ring.vertices.flatMap((v, i): FollowingEdge[] => {
      const on = marks.get(v.tag ?? '') ?? [];
      const said = v.tag !== undefined && master?.found?.follows[v.tag];
      if (v.tag === undefined || (on.length === 0 && !master?.found && !said)) return [];
      const follows: Record<string, number> = {};
      for (const m of on)
        for (const [plate, share] of Object.entries(terms.get(m) ?? {})) follows[plate] = share;
      return [
        {
          id: v.tag,
          d: edgePath(c.ring.vertices, i, minX, maxY),
          marks: on,
          follows,
          reason: reasons.get(v.tag) ?? null,
        },
      ];
    }),
  );
  return {
    id: part.id,
    name: part.name,
    width: maxX - minX,
    height: maxY - minY,
    thickness: part.thickness,
    grain: part.grain,
    curves: [
      curve(part.outline, 'outline'),
      ...part.through.map((c) => curve(c, 'through')),
      ...part.pockets.map((c) => curve(c, 'pocket')),
      ...part.holes.map(
        (h): DrawnCurve => ({
          id: h.id,
          kind: 'hole',
          d: circlePath(h.centre.x, h.centre.y, h.diameter / 2, minX, maxY),
          says: says(h.id),
        }),
      ),
    ],
    edges,
  };
}

/** What is in a piece of the job, read as the job says, with pictures to click on. */
export async function describePiece(document: WireDocument, piece: number): Promise<Reply<DescribedSource>> {
  const text = jobOf(document).pieces[piece]!;
  const name = text.source;
  const source = await sourcesOf(document, (n) => n === name);
  const content = source(name);
  if (content === undefined)
    return {
      ok: false,
      diagnostics: [
        {
          kind: 'diagnostic',
          code: 'page/no-source',
          level: 'error',
          stage: 'read',
          message: '',
          locus: { file: name },
          hint: '',
        },
      ],
    };
  if (/\.json$/i.test(name)) {
    const read = describeFile(content, name);
    const master = readMaster(new TextDecoder().decode(content as Uint8Array), name);
    if (!read.ok || !master.ok) return read.ok ? { ok: false, diagnostics: master.diagnostics } : read;
    const { found } = master.value;
    const stands = master.value.mates.length > 0;
    return {
      ok: true,
      value: {
        name,
        kind: 'master',
        read: read.value,
        parts: partsOfMaster(master.value).map((p) => drawnPart(p, read.value, master.value)),
        standing: stands ? assemblySvg(master.value, await loadClip(), { title: master.value.title }) : null,
        found: found ? { from: found.from, said: { answers: found.answers, follows: found.follows } } : null,
      },
      diagnostics: read.diagnostics,
    };
  }
  const imported = importFile(content, name, readingOf(document, piece));
  if (!imported.ok) return imported;
  // What was understood is shown even where something is still to be said.
  const read = describePartly(imported.value, imported.diagnostics);
  return {
    ok: true,
    value: {
      name,
      kind: 'drawing',
      read,
      parts: imported.value.read.parts.map((p) => drawnPart(p, read, null)),
      standing: null,
      found: null,
    },
    diagnostics: [...imported.diagnostics, ...imported.value.read.diagnostics],
  };
}
