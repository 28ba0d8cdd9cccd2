/// <reference types="node" />
import { readFileSync } from 'node:fs';
import { loadClip } from '@haunch/geometry';
import { describe, expect, it } from 'vitest';
import { type FoundMasterFile, findMasterFile, picturesOfFound, readAnswers } from './find-master-file.js';

const DXF = readFileSync(new URL('../../../docs/examples/rack/rack.dxf', import.meta.url), 'utf8');
const request = (more = {}) => ({
  content: DXF,
  file: 'in/rack.dxf',
  answers: {},
  follows: {},
  read: { thickness: 12 },
  ...more,
});
const found = (more = {}): FoundMasterFile => {
  const out = findMasterFile(request(more));
  if (!out.ok) throw new Error(out.diagnostics.map((d) => d.message).join('\n'));
  return out.value;
};
const codes = (more = {}): string[] =>
  findMasterFile(request(more))
    .diagnostics.filter((d) => d.level === 'error')
    .map((d) => d.code);

describe('a master found from a drawing file', () => {
  it('is not sought while nobody says how thick the parts are; the candidates are named', () => {
    const asked = findMasterFile(request({ read: {} }));
    const last = asked.diagnostics.at(-1)!;
    expect([last.code, last.locus.file]).toEqual(['features/thickness-not-confirmed', 'in/rack.dxf']);
    expect(last.message).toMatch(/12 mm/);
    expect(last.hint).toMatch(/--thickness/);
  });

  it('stands behind its question, with a picture of each choice', async () => {
    const asked = found();
    expect([asked.master, asked.text]).toEqual([null, null]);
    const pictures = picturesOfFound(asked, 'p/rack.svg', await loadClip());
    expect([...pictures.keys()]).toEqual(['p/rack.piece-0.1.svg', 'p/rack.piece-0.2.svg']);
    expect(new Set(pictures.values()).size).toBe(2);
    for (const svg of pictures.values()) expect(svg).toMatch(/^<svg[\s\S]*LOW[\s\S]*<\/svg>\s*$/);
  });

  it('is named after the drawing, keeps its answers, and is found again from its own text', async () => {
    const first = found({ answers: { 'piece-0': 1 } });
    expect(first.master?.title).toBe('rack');
    expect(first.master?.found).toMatchObject({ from: 'in/rack.dxf', answers: { 'piece-0': 1 } });
    const again = found({ content: first.text, file: 'out/rack.json', read: {} });
    expect(again.text).toBe(first.text);
    expect([...picturesOfFound(first, 'p/rack.svg', await loadClip()).keys()]).toEqual(['p/rack.svg']);
  });

  it('refuses what cannot be read, and a thickness for a master, by name', () => {
    const { text } = found({ answers: { 'piece-0': 1 } });
    expect(codes({ content: text, file: 'rack.json' })).toEqual(['job/master-states-thickness']);
    expect(codes({ file: 'rack.txt' })).toEqual(['job/source-kind']);
    expect(codes({ content: '0\nSECTION\n2\nENTITIES\n0\nENDSEC\n0\nEOF\n' })).toHaveLength(1);
    expect(codes({ answers: { 'piece-0': 4 } })).toEqual(['mates/no-such-choice']);
  });
});

describe('a file of answers', () => {
  it('is an object of numbers, or a master that was found, with what was said by hand', () => {
    const plain = readAnswers('{"piece-0": 2}', 'a.json');
    expect(plain.ok && plain.value).toEqual({ answers: { 'piece-0': 2 }, follows: {} });
    const { text } = found({ answers: { 'piece-0': 1 }, follows: { 'LOW.c1/e0': { L: 1 } } });
    const kept = readAnswers(text!, 'rack.json');
    expect(kept.ok && kept.value).toEqual({
      answers: { 'piece-0': 1 },
      follows: { 'LOW.c1/e0': { L: 1 } },
    });
  });

  it.each([
    ['{', 1],
    ['[1]', 1],
    ['{\n"piece-0": "left"}', 2],
    ['{"piece-0": 0}', 1],
  ])('is refused with its line where it holds none: %j', (text, line) => {
    const refused = readAnswers(text, 'a.json');
    expect(refused.ok).toBe(false);
    expect(refused.diagnostics).toMatchObject([
      { code: 'job/answers-unread', locus: { file: 'a.json', line } },
    ]);
  });

  it('is refused where it is a master that was drawn, not found', () => {
    const sideboard = new URL('../../../docs/examples/sideboard/sideboard-18.master.json', import.meta.url);
    const refused = readAnswers(readFileSync(sideboard, 'utf8'), 'm.json');
    expect(refused.diagnostics.map((d) => d.code)).toEqual(['job/answers-unread']);
  });
});
