import { loadClip } from '@haunch/geometry';
import { findMasterFile, picturesOfFound } from '@haunch/job';
import { jobOf } from '../job/job-document.js';
import type { FoundSource } from './drawing-wire.js';
import { readingOf } from './piece-reading.js';
import type { Said } from './service.js';
import { sourcesOf } from './sources.js';
import type { Reply, WireDocument } from './wire.js';

/** Finds from a piece's flat parts what goes into what, with what was answered so far. */
export async function findMasterOf(
  document: WireDocument,
  piece: number,
  said: Said,
): Promise<Reply<FoundSource>> {
  const { source: file } = jobOf(document).pieces[piece]!;
  const content = (await sourcesOf(document, (n) => n === file))(file);
  if (content === undefined) return { ok: false, diagnostics: [] };
  const found = findMasterFile({
    content,
    file,
    ...said,
    ...(/\.json$/i.test(file) ? {} : { read: readingOf(document, piece) }),
  });
  if (!found.ok) return found;
  const { text, questions, unanswered, master } = found.value;
  const pictures = master
    ? new Map<string, string>()
    : picturesOfFound(found.value, 'way.svg', await loadClip());
  return {
    ok: true,
    value: {
      text,
      questions: questions.map((q) => ({
        id: q.id,
        text: q.text,
        choices: [...q.choices],
        taken: q.taken,
        pictures: q.choices.map((_, k) => pictures.get(`way.${q.id}.${k + 1}.svg`) ?? null),
      })),
      unanswered,
    },
    diagnostics: found.diagnostics,
  };
}
