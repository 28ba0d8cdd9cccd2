import { loadClip, rectangleRing } from '@haunch/geometry';
import type { Move, Part, Toolpath } from '@haunch/model';
import { programReader } from '@haunch/nc/read';
import { writeProgram } from '@haunch/nc/write';
import { linear } from '@haunch/post-linear';
import { proveProgram } from '@haunch/proof';

const SECOND = 1000;

/** Plain motion blocks that all differ, about 100 kB a piece. */
function* motionPieces(blocks: number): Generator<string> {
  yield 'G21 G90 G94\nT1 M6\nS18000 M3\nG0 Z20\nG0 X0 Y0\nG1 Z5 F4000\n';
  let piece = '';
  for (let i = 0; i < blocks; i++) {
    piece += `G1 X${(i % 2400) + 0.0625} Y${(i * 7) % 1200}.125 Z${(i % 17) + 0.5}\n`;
    if (piece.length > 100_000) {
      yield piece;
      piece = '';
    }
  }
  yield `${piece}G0 Z20\nM5\nM2\n`;
}

/** Million blocks that the reader takes in, in a second of processor time (of all threads), for a text of about so many MB. */
export function readingSpeed(megabytes: number): number {
  const blocks = Math.round((megabytes * 1e6) / 26);
  let held = 0;
  let read = 0;
  const reader = programReader(() => {
    read++;
  });
  let spent = 0;
  for (const piece of motionPieces(blocks)) {
    held += piece.length;
    const started = process.cpuUsage();
    reader.read(piece);
    const { user, system } = process.cpuUsage(started);
    spent += (user + system) / 1e6;
  }
  const summary = reader.end();
  if (summary.end !== 'M2' || read < blocks || held < megabytes * 5e5)
    throw new Error('the reader lost blocks');
  return summary.blocks / 1e6 / spent;
}

/** Seconds of processor time (of all threads) in which so many straight moves, all different, are written: the best of some runs. */
export function writingSeconds(blocks: number, runs: number): number {
  const moves: Move[] = [
    { kind: 'cutter', number: 1, id: 'router-6', from: 'a' },
    { kind: 'spindle', rpm: 18_000, from: 'a' },
    { kind: 'rapid', to: { x: 0, y: 0, z: 20 }, from: 'a' },
  ];
  for (let i = 0; i < blocks; i++)
    moves.push({
      kind: 'linear',
      to: { x: (i % 2400) + 0.0625, y: ((i * 7) % 1200) + 0.125, z: (i % 17) + 0.5 },
      feed: 4000,
      from: 'a',
    });
  moves.push({ kind: 'rapid', to: { x: 0, y: 0, z: 20 }, from: 'a' }, { kind: 'spindle', rpm: 0, from: 'a' });
  const toolpath: Toolpath = { kind: 'toolpath', board: 'bench', moves };
  let best = Infinity;
  for (let k = 0; k < runs; k++) {
    const started = process.cpuUsage();
    const program = writeProgram(toolpath, linear, { title: 'bench' });
    const spent = process.cpuUsage(started);
    if (!program.ok) throw new Error(JSON.stringify(program.diagnostics.slice(0, 2)));
    if (program.value.lineMoves.length < blocks) throw new Error('the writer lost blocks');
    best = Math.min(best, (spent.user + spent.system) / 1e6);
  }
  return best;
}

const slots = (n: number): Part[] =>
  Array.from({ length: n }, (_, k) => {
    const [x, y] = [20 + (k % 20) * 110, 20 + Math.floor(k / 20) * 110];
    const outline = rectangleRing(x, y, x + 90, y + 90);
    return {
      kind: 'part',
      id: `P${k}`,
      name: `plate ${k}`,
      thickness: 12,
      grain: null,
      cutFace: 'n+',
      showFace: null,
      stock: null,
      outline: { id: `P${k}.outline`, ring: outline, bare: outline, reliefs: [] },
      through: [],
      pockets: [],
      holes: [],
      from: [],
    };
  });

/** Seconds and blocks of a proof of plates whose outlines are cut in very short blocks. */
export async function longProof(
  plates: number,
  perSide: number,
): Promise<{ readonly seconds: number; readonly blocks: number; readonly megabytes: number }> {
  const parts = slots(plates);
  const out = ['G21 G90 G94', 'T1 M6', 'S18000 M3', 'G0 Z25'];
  const around = (x0: number, y0: number, z: number): void => {
    const [a, b] = [x0 - 3, y0 - 3];
    const side = 96;
    for (let s = 0; s < 4; s++)
      for (let i = 1; i <= perSide; i++) {
        const t = (side * i) / perSide;
        const [x, y] =
          s === 0
            ? [a + t, b]
            : s === 1
              ? [a + side, b + t]
              : s === 2
                ? [a + side - t, b + side]
                : [a, b + side - t];
        out.push(`X${x.toFixed(4)} Y${y.toFixed(4)} Z${z}`);
      }
  };
  for (const [k] of parts.entries()) {
    const [x, y] = [20 + (k % 20) * 110, 20 + Math.floor(k / 20) * 110];
    out.push(`G0 X${x - 3} Y${y - 3}`, 'G1 Z8 F2000');
    around(x, y, 8);
    out.push('G1 Z4 F2000');
    around(x, y, 4);
    out.push('G1 Z-0.2 F2000');
    around(x, y, -0.2);
    out.push('G0 Z25');
  }
  out.push('M5', 'M2');
  const board = {
    id: 'bench',
    stock: 'bench',
    outline: rectangleRing(0, 0, 2440, 1220),
    thickness: 12,
    readings: [{ thickness: 12 }],
    grain: null,
    keepOuts: [],
  };
  const clip = await loadClip();
  const started = performance.now();
  const proved = proveProgram({
    text: out.join('\n'),
    board,
    items: parts.map((part) => ({ item: part.id, piece: 1, part })),
    joints: [],
    thicknesses: {},
    cutters: [
      {
        id: 'router-6',
        number: 1,
        kind: 'router',
        diameter: 6,
        flutes: 2,
        fluteLength: 25,
        upCutLength: null,
        rpm: 18_000,
        chipLoad: 0.1,
        depthPerPass: 6,
        rampAngle: 1.5,
      },
    ],
    machine: {
      name: 'router',
      envelope: { x: [-20, 2600], y: [-20, 1300], z: [-5, 60] },
      clearance: 10,
      rapidRate: 15_000,
      maxFeed: 8000,
      maxRpm: 24_000,
      acceleration: 1000,
      zZero: 'bed',
      spoilboard: 0.5,
      spinUp: 5,
    },
    holding: { tabWidth: 8, tabHeight: 3, tabSpacing: 400, fewestTabs: 2, clearSlugsBelow: 20 },
    clip,
  });
  const seconds = (performance.now() - started) / SECOND;
  if (!proved.ok) throw new Error(JSON.stringify(proved.diagnostics.slice(0, 2)));
  const { proof } = proved.value;
  // Plates without tabs are cut loose, which is refused; every wall must have been judged all the same.
  if (proof.parts.length !== plates || proof.parts.some((p) => !p.cut || p.gouge > 0.002 || p.excess > 0.002))
    throw new Error('the plates were not judged as cut');
  return { seconds, blocks: proof.blocks, megabytes: process.resourceUsage().maxRSS / 1024 };
}
