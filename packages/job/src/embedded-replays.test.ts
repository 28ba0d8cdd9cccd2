import { inflateRawSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { embeddedReplays, REPLAY_LOADER } from './embedded-replays.js';

const packed = (html: string): string => {
  const [, text] = /<script type="application\/octet-stream">([A-Za-z0-9+/=]*)<\/script>/.exec(html)!;
  return inflateRawSync(Buffer.from(text!, 'base64')).toString('utf8');
};

describe('replays in a report', () => {
  it('are the pages themselves, whole, as another unpacker reads them', () => {
    const page = `<!doctype html><p>Ж ${'G1 X1 Y2\n'.repeat(3000)}</p><script>1</script>`;
    const html = embeddedReplays(new Map([['programs/a.ngc', page]])).get('programs/a.ngc')!;
    expect(packed(html)).toBe(page);
    expect(html.length).toBeLessThan(page.length / 10);
  });

  it('leave out what would make the page too large, and keep what comes after it', () => {
    // What no packing makes smaller: letters in no order.
    let seed = 1;
    const noise = Array.from({ length: 2_600 }, () => {
      seed = (seed * 48271) % 2147483647;
      return String.fromCharCode(33 + (seed % 90));
    }).join('');
    const held = embeddedReplays(
      new Map([
        ['programs/large.ngc', noise],
        ['programs/small.ngc', '<p>small</p>'],
      ]),
      2_000,
    );
    expect([...held.keys()]).toEqual(['programs/small.ngc']);
  });

  it('are unpacked by a script that loads nothing', () => {
    expect(() => new Function(REPLAY_LOADER)).not.toThrow();
    expect(REPLAY_LOADER).not.toMatch(/fetch\(|import|https?:/);
  });
});
