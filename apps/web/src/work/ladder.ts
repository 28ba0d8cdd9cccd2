import { ringBounds } from '@haunch/geometry';
import { feelLadder, makeLadder, plugPlace } from '@haunch/job';
import { type Contour, partOnTable } from '@haunch/model';
import { ringPath } from '../ui/ring-path.js';
import type { FeltWords, LadderResult, Tell } from './service.js';
import { JOB_FILE, sourcesOf } from './sources.js';
import type { Reply, WireDocument } from './wire.js';

/** The ladder of a job for a board, drawn and with its files, as `haunch ladder` makes it. */
export async function ladderOf(
  document: WireDocument,
  board: string | null,
  tell: Tell,
): Promise<Reply<LadderResult>> {
  const source = await sourcesOf(document);
  const made = await makeLadder(
    {
      text: document.text,
      file: JOB_FILE,
      source,
      progress: (stage, b) => tell(b === undefined ? { stage } : { stage, board: b }),
    },
    board ?? undefined,
  );
  if (!made.ok) return made;
  const { ladder, files } = made.value;
  const comb = partOnTable(ladder.parts[0]!);
  const { minX, maxX, minY, maxY } = ringBounds(comb.outline.ring);
  const curves: Contour[] = [comb.outline, ...comb.through, ...comb.pockets];
  const place = (id: string): { x: number; y: number } => {
    const at = ladder.names.find((n) => n.id === id)?.at ?? { x: minX, y: minY };
    return { x: at.x - minX, y: maxY - at.y };
  };
  return {
    ok: true,
    value: {
      document: document.id,
      board: made.value.board.id,
      thickness: ladder.parts[0]!.thickness!,
      comb: {
        d: curves.map((c) => ringPath(c.ring.vertices, minX, maxY)).join(''),
        width: maxX - minX,
        height: maxY - minY,
      },
      rungs: ladder.rungs.map((r) => ({ id: r.id, axis: r.axis, clearance: r.clearance, ...place(r.id) })),
      relieved: ladder.relieved ? { id: ladder.relieved.id, ...place(ladder.relieved.id) } : null,
      housing: ladder.housing
        ? { id: ladder.housing.id, depth: ladder.housing.depth, ...place(ladder.housing.id) }
        : null,
      gaugeWidth: ladder.gaugeWidth,
      // A program that is not proved is not written.
      files: [...files]
        .filter(([path]) => made.value.pass || /\.(?:svg|dxf)$/.test(path))
        .map(([path, text]) => ({ path, content: new Blob([text]) })),
    },
    diagnostics: made.diagnostics,
  };
}

/** The job's text with what was felt, as `haunch ladder --felt` writes it. */
export async function feltText(document: WireDocument, felt: FeltWords): Promise<Reply<string>> {
  const { text } = document;
  const source = await sourcesOf(document);
  const typed = { ...felt };
  const first = feelLadder(text, JOB_FILE, typed, source);
  const plug = first.ok ? await plugPlace({ text, file: JOB_FILE, source }, felt.board) : null;
  const read = plug?.ok ? feelLadder(text, JOB_FILE, typed, source, plug.value) : first;
  return read.ok ? { ok: true, value: read.value.text, diagnostics: read.diagnostics } : read;
}
