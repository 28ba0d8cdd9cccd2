import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkJob } from './check.js';
import { openFiles } from './open.js';
import { writeZip } from './zip.js';

const example = (path: string): Uint8Array<ArrayBuffer> =>
  Uint8Array.from(readFileSync(new URL(`../../../../docs/examples/${path}`, import.meta.url)));
const file = (name: string, content: string | Uint8Array<ArrayBuffer>) => ({
  name,
  content: new Blob([content]),
});
const job = new TextDecoder().decode(example('sideboard/job.json'));

describe('files that are dropped', () => {
  it('open as a job with what lies beside it, the text to the byte, in an archive or one by one', async () => {
    const master = example('sideboard/sideboard-18.master.json');
    const loose = await openFiles([file('job.json', job), file('sideboard-18.master.json', master)]);
    const zip = writeZip([
      { path: 'sideboard/job.json', bytes: Uint8Array.from(Buffer.from(job)) },
      { path: 'sideboard/sideboard-18.master.json', bytes: master },
    ]);
    const packed = await openFiles([{ name: 'sideboard.zip', content: zip }]);
    for (const opened of [loose, packed]) {
      expect(opened).toMatchObject({ kind: 'job', text: job });
      if (opened.kind !== 'job') throw new Error('no job');
      expect(Object.keys(opened.sources)).toEqual(['sideboard-18.master.json']);
    }
  });

  it('open as a master with the stocks that it asks for, or as a bare drawing', async () => {
    const master = example('pigeonholes/pigeonholes.master.json');
    expect(await openFiles([file('pigeonholes.master.json', master)])).toMatchObject({
      kind: 'source',
      drawing: false,
      stocks: ['sheet-12', 'sheet-15'],
    });
    expect(await openFiles([file('rack.dxf', example('rack/rack.dxf'))])).toMatchObject({ drawing: true });
  });

  it.each([
    ['a job that lacks something', 'job.json', '{"format":"haunch-job","version":1}', /title/],
    ['a job of another version', 'job.json', job.replace('"version": 1', '"version": 9'), /version/],
    ['JSON that is cut off', 'job.json', job.slice(0, 200), /./],
    ['JSON that is something else', 'a.json', '{"format":"other"}', /unknown kind/],
    ['a master that is not whole', 'm.json', '{"format":"haunch-master","version":1}', /./],
    ['a drawing that is none', 'a.dxf', 'hello', /./],
    ['a picture', 'a.png', 'x', /unknown kind/],
    ['an archive that is none', 'a.zip', 'PK', /archive/],
  ])('are refused with a reason: %s', async (_, name, content, says) => {
    const opened = await openFiles([file(name, content)]);
    if (opened.kind !== 'refused') throw new Error(`${name} was opened`);
    expect(opened.problems.length).toBeGreaterThan(0);
    expect(opened.problems[0]!.file).toBe(name);
    expect(opened.problems.map((p) => (p.what === 'said' ? p.text : p.what)).join('\n')).toMatch(says);
  });

  it('are refused where it is not clear which is meant', async () => {
    const two = await openFiles([file('a.json', job), file('b.json', job)]);
    expect(two).toMatchObject({ kind: 'refused', problems: [{ what: 'two jobs', file: 'b.json' }] });
    const dxf = example('rack/rack.dxf');
    expect(await openFiles([file('a.dxf', dxf), file('b.dxf', dxf)])).toMatchObject({
      problems: [{ what: 'one at a time', file: 'b.dxf' }],
    });
  });
});

describe('a job that is looked at', () => {
  const look = (text: string) => checkJob({ id: 's1', text, sources: {} });

  it('gives each board its map with the doubt, and the fits of its ladder', async () => {
    const view = await look(job);
    expect(view.boards.map((b) => b.of)).toEqual(['sheet-1', 'off-cut-1']);
    const [sheet] = view.boards;
    expect(sheet!.middle).toBeCloseTo(17.7, 1);
    expect(sheet!.doubt).toBeGreaterThan(0);
    expect(sheet!.fields.length).toBe(8 * 4);
    expect(sheet!.goAt[0]).toBeLessThan(sheet!.middle);
    expect(view.fit?.ladders[0]?.kind).toBe('felt');
  });

  it('keeps the maps of sound boards where another has none yet', async () => {
    const open = JSON.parse(job);
    open.boards[1].readings = [];
    const view = await look(JSON.stringify(open));
    expect(view.boards.map((b) => b.of)).toEqual(['sheet-1']);
    expect(view.settings).not.toBeNull();
    expect(view.diagnostics.some((d) => d.level === 'error' && d.locus.board === 'off-cut-1')).toBe(true);
  });
});
