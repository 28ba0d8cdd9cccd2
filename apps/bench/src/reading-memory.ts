import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../../..', import.meta.url));

/**
 * Memory of a whole process, MB, that reads about so many MB of motion blocks with a heap of 32 MB: what the reader keeps, not what the engine has not
 * yet swept up. A reader that kept text or moves would not come to its end.
 */
export function readingMemory(megabytes: number): number {
  const script = `import { programReader } from './packages/nc/dist/read/index.js';
let [moves, held, i] = [0, 0, 0];
const reader = programReader(() => { moves++; });
reader.read('G21 G90 G94\\nT1 M6\\nS18000 M3\\nG0 Z20\\nG0 X0 Y0\\nG1 Z5 F4000\\n');
while (held < ${megabytes * 1e6}) {
  let piece = '';
  while (piece.length < 100000) {
    piece += 'G1 X' + ((i % 2400) + 0.0625) + ' Y' + ((i * 7) % 1200) + '.125 Z' + ((i % 17) + 0.5) + '\\n';
    i++;
  }
  held += piece.length;
  reader.read(piece);
}
reader.read('M5\\nM2\\n');
if (reader.end().end !== 'M2' || moves < i) throw new Error('the reader lost blocks');
console.log('RSS ' + process.resourceUsage().maxRSS);`;
  const run = spawnSync(
    process.execPath,
    ['--max-old-space-size=32', '--max-semi-space-size=4', '--input-type=module', '-e', script],
    { cwd: ROOT, encoding: 'utf8' },
  );
  if (run.status !== 0) throw new Error(`reading failed: ${run.stderr}`);
  return Number(/RSS (\d+)/.exec(run.stdout)?.[1]) / 1024;
}
