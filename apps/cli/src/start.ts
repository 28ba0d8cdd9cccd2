import { haunch } from './cli.js';
import { optimiseLater } from './optimise-later.js';

optimiseLater();

// Whoever reads the output may stop early, as `| head` does: no fault, and nothing to say.
for (const stream of [process.stdout, process.stderr])
  stream.on('error', (e: NodeJS.ErrnoException) => {
    if (e.code !== 'EPIPE') throw e;
    process.exit();
  });

await haunch(process.argv.slice(2), (code) => {
  process.exitCode = code;
});
