import { deflateSync } from 'fflate';
import { escapeHtml } from './escape-html.js';

/** The page of a report holds replays up to this many letters; what is beyond is left to the files beside it. */
const MOST = 2_000_000;

const base64 = (bytes: Uint8Array): string => {
  let text = '';
  for (let i = 0; i < bytes.length; i += 8192) text += String.fromCharCode(...bytes.subarray(i, i + 8192));
  return btoa(text);
};

/** The replays of a report's programs, as many as find room in `most` letters, by the program's file: what stands in the page for each, a fold that is opened to watch it. */
export function embeddedReplays(
  replays: ReadonlyMap<string, string>,
  most = MOST,
): ReadonlyMap<string, string> {
  let room = most;
  const out = new Map<string, string>();
  for (const [file, page] of replays) {
    const packed = base64(deflateSync(new TextEncoder().encode(page), { level: 6 }));
    if (packed.length > room) continue;
    room -= packed.length;
    const name = escapeHtml(file);
    out.set(
      file,
      `<details class="replay"><summary>Watch ${name} cut</summary><iframe title="${name}, replayed" sandbox="allow-scripts" hidden></iframe><p>It is unpacked when it is opened …</p><script type="application/octet-stream">${packed}</script></details>`,
    );
  }
  return out;
}

/** Styles of embedded replays. */
export const REPLAY_STYLE =
  '.replay iframe{width:100%;height:min(90vh,60rem);border:1px solid var(--line);border-radius:.4rem}@media print{.replay{display:none}}';

/** Unpacks a replay when its fold is opened first; a browser that cannot says so. */
export const REPLAY_LOADER = `
(() => {
for (const fold of document.querySelectorAll('details.replay')) fold.addEventListener('toggle', async () => {
  const frame = fold.querySelector('iframe'), words = fold.querySelector('p'), packed = fold.querySelector('script');
  if (!fold.open || !packed) return;
  try {
    const bytes = Uint8Array.from(atob(packed.textContent), (c) => c.charCodeAt(0));
    const text = await new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream('deflate-raw'))).text();
    frame.srcdoc = text;
    frame.hidden = false;
    words.remove();
    packed.remove();
  } catch (e) {
    words.textContent = 'This browser cannot unpack it; open the page in the folder replays beside this report.';
  }
});
})();
`;
