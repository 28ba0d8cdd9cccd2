import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { drawingOfSize } from './drawing-of-size.js';

// Reads DXF files of about 1, 10 and 50 MB with our reader and with a peer (dxf-parser, MIT), each in a process of
// its own, in turn in one run, so that the ratios hold whatever else the machine does.
const SIZES = [5_200, 52_000, 260_000] as const;
const ROUNDS = 5;

interface Reading {
  readonly seconds: number;
  readonly megabytes: number;
  readonly entities: number;
}

/** In the child: from the file's name to the entities, start-up not included. */
async function read(who: string, file: string): Promise<Reading> {
  let count: number;
  let started: number;
  if (who === 'ours') {
    const { readDxf } = await import('@haunch/drawing');
    started = performance.now();
    const r = readDxf(readFileSync(file), { file });
    if (!r.ok) throw new Error(r.diagnostics[0]?.message);
    count = r.value.entities.length;
  } else {
    const { default: Parser } = await import('dxf-parser');
    started = performance.now();
    count = new Parser().parseSync(readFileSync(file, 'utf8'))!.entities.length;
  }
  const seconds = (performance.now() - started) / 1000;
  return { seconds, megabytes: process.resourceUsage().maxRSS / 1024, entities: count };
}

function measured(who: 'ours' | 'peer', file: string): Reading {
  const run = spawnSync(process.execPath, [fileURLToPath(import.meta.url), who, file], { encoding: 'utf8' });
  if (run.status !== 0) throw new Error(run.stderr);
  return JSON.parse(run.stdout) as Reading;
}

const least = (values: readonly number[]): number => values.reduce((a, b) => Math.min(a, b), Infinity);

function compare(): void {
  const folder = mkdtempSync(join(tmpdir(), 'haunch-read-'));
  const perMegabyte: number[] = [];
  let last = { speed: 0, memory: 0 };
  try {
    for (const size of SIZES) {
      const file = join(folder, `${size}.dxf`);
      writeFileSync(file, drawingOfSize(size));
      const mb = statSync(file).size / 1e6;
      const rounds = Array.from({ length: ROUNDS }, () => ({
        ours: measured('ours', file),
        peer: measured('peer', file),
      }));
      if (rounds.some((r) => r.ours.entities !== size || r.peer.entities !== size))
        throw new Error(`a reader lost entities of ${size}`);
      const of = (who: 'ours' | 'peer', what: 'seconds' | 'megabytes'): number =>
        least(rounds.map((r) => r[who][what]));
      last = {
        speed: of('peer', 'seconds') / of('ours', 'seconds'),
        memory: of('ours', 'megabytes') / of('peer', 'megabytes'),
      };
      perMegabyte.push(of('ours', 'seconds') / mb);
      process.stdout.write(
        `${mb.toFixed(1)} MB, ${size} entities, best of ${ROUNDS}: ours ${of('ours', 'seconds').toFixed(2)} s ${of('ours', 'megabytes').toFixed(0)} MB, peer ${of('peer', 'seconds').toFixed(2)} s ${of('peer', 'megabytes').toFixed(0)} MB: ${last.speed.toFixed(2)} times as fast, ${last.memory.toFixed(2)} of the memory\n`,
      );
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
  const bound = (what: string, met: boolean, value: number): void => {
    process.stdout.write(`${met ? 'met   ' : 'MISSED'} ${what}: ${value.toFixed(2)}\n`);
    if (!met) process.exitCode = 1;
  };
  bound('DXF of 50 MB, speed against the peer (at least 3)', last.speed >= 3, last.speed);
  bound('DXF of 50 MB, memory against the peer (at most 0.5)', last.memory <= 0.5, last.memory);
  const growth = perMegabyte[2]! / perMegabyte[1]!;
  bound('seconds a MB at 50 MB against 10 MB (at most 1.3: linear)', growth <= 1.3, growth);
}

const [who, file] = process.argv.slice(2);
if (who !== undefined && file !== undefined) process.stdout.write(JSON.stringify(await read(who, file)));
else compare();
