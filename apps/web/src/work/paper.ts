import { loadClip } from '@haunch/geometry';
import { PAPER_FOLDER, paperFiles, paperOf } from '@haunch/job/paper';
import { madeOf } from './make.js';
import { addFiles, recallResult } from './results.js';
import type { WireDocument } from './wire.js';

/**
 * The paper of a made and proved state, as `haunch make` writes it beside the programs: made when it is first wanted, then kept with the
 * result. Its paths; none where nothing is made of this state, or not all is proved.
 */
export async function paperPaths(document: WireDocument): Promise<readonly string[]> {
  const kept = await recallResult(document.id);
  if (kept?.result.document !== document.id || !kept.result.pass) return [];
  const there = Object.keys(kept.files).filter((p) => p.startsWith(`${PAPER_FOLDER}/`));
  if (there.length > 0) return there;
  const made = await madeOf(document);
  if (!made) return [];
  const files = await paperFiles(paperOf(made, kept.result.report), await loadClip());
  await addFiles(document.id, files);
  return [...files.keys()];
}
