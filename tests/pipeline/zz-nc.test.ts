import { writeFileSync } from 'node:fs';
import { it } from 'vitest';
import { makeJob } from '@haunch/job';
import { readProgram } from '@haunch/nc/read';
import { sideboardJob } from './sideboard.js';
it('x', async () => {
  const made = await makeJob(sideboardJob());
  if (!made.ok) console.log(JSON.stringify(made.diagnostics.slice(0, 5), null, 1));
  else { const programs = (made.value as any).programs ?? Object.keys(made.value);
    console.log(Object.keys(made.value)); for (const p of programs) { const t = p.text ?? p.program?.text; if (!t) { console.log(p); continue; } writeFileSync('/tmp/p-' + (p.board ?? 'x') + '.ngc', t); const r = readProgram(t); console.log(p.board, r.blocks, r.moves.length, r.diagnostics, r.end); } }
}, 240000);
