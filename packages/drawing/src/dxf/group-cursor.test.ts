import { describe, expect, it } from 'vitest';
import { GroupCursor } from './group-cursor.js';
import { TextDecoding } from './text-decoding.js';

function all(text: string) {
  const c = new GroupCursor(new TextEncoder().encode(text), new TextDecoding(true));
  const groups: (readonly [number, string, number])[] = [];
  while (c.next()) groups.push([c.code, c.text(c.code, c.from, c.to), c.line]);
  return { groups, end: c.end, badCode: c.badCode, line: c.line };
}

describe('GroupCursor', () => {
  it('gives the same groups for LF, CRLF and CR', () => {
    const lf = '  0\nSECTION\n  2\nHEADER\n';
    const want = [
      [0, 'SECTION', 1],
      [2, 'HEADER', 3],
    ];
    for (const text of [lf, lf.replaceAll('\n', '\r\n'), lf.replaceAll('\n', '\r'), lf.trimEnd()])
      expect(all(text)).toMatchObject({ groups: want, end: 'text ended' });
  });

  it('counts lines from 1 and skips blank lines before the first group and after the last', () => {
    expect(all('\n\n  0\nEOF\n\n  \n')).toMatchObject({ groups: [[0, 'EOF', 3]], end: 'text ended' });
  });

  it('keeps blank values', () => {
    expect(all('1\n\n0\nX\n').groups).toEqual([
      [1, '', 1],
      [0, 'X', 3],
    ]);
  });

  it('says where a group was cut or a code is no integer', () => {
    expect(all('0\nLINE\n10')).toMatchObject({ end: 'cut in a group', line: 3 });
    for (const bad of ['ten', '1.5', '0x10', '--1', '123456', ''])
      expect(all(`0\nLINE\n${bad}\n5\n0\nX\n`)).toMatchObject({
        end: 'bad group code',
        badCode: bad,
        line: 3,
      });
  });

  it('reads negative codes', () => {
    expect(all(' -5\nx\n').groups).toEqual([[-5, 'x', 1]]);
  });
});
