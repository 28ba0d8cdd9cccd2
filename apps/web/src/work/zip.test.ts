import { deflateRawSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { crc32, readZip, writeZip } from './zip.js';

const bytes = (text: string) => new TextEncoder().encode(text) as Uint8Array<ArrayBuffer>;
const back = async (blob: Blob) => readZip(new Uint8Array(await blob.arrayBuffer()));

describe('archives', () => {
  it('give every file back, to the byte, and are the same for the same files', () =>
    fc.assert(
      fc.asyncProperty(
        fc.dictionary(fc.stringMatching(/^[a-zé]{1,8}$/), fc.uint8Array({ maxLength: 300 }), { maxKeys: 6 }),
        async (files) => {
          const list = Object.entries(files).map(([path, content]) => ({
            path,
            bytes: Uint8Array.from(content),
          }));
          const zip = writeZip(list);
          expect([...(await back(zip))]).toEqual(list.map((f) => [f.path, f.bytes]));
          expect(await zip.text()).toBe(await writeZip(list).text());
        },
      ),
      { numRuns: 40 },
    ));

  it('check by the published value of CRC-32: "123456789" gives CBF43926 (check value of the polynomial in ISO/IEC 3309)', () =>
    expect(crc32(bytes('123456789'))).toBe(0xcbf43926));

  it('that are deflated are read as well', async () => {
    const text = bytes('the same again and again and again and again');
    const packed = new Uint8Array(deflateRawSync(text));
    const stored = new Uint8Array(
      await writeZip([{ path: 'a', bytes: Uint8Array.from(packed) }]).arrayBuffer(),
    );
    const view = new DataView(stored.buffer);
    const list = stored.length - 22 - 47;
    view.setUint16(list + 10, 8, true);
    view.setUint32(list + 24, text.length, true);
    expect((await readZip(stored)).get('a')).toEqual(text);
    view.setUint32(list + 24, text.length - 1, true);
    await expect(readZip(stored)).rejects.toThrow(RangeError);
  });

  it.each([0, 10, 30, 60])('cut off after %i bytes are refused', async (n) => {
    const whole = new Uint8Array(await writeZip([{ path: 'a', bytes: bytes('hello') }]).arrayBuffer());
    await expect(readZip(whole.slice(0, n))).rejects.toThrow(RangeError);
  });

  it('whose list points nowhere are refused', async () => {
    const whole = new Uint8Array(await writeZip([{ path: 'a', bytes: bytes('hello') }]).arrayBuffer());
    new DataView(whole.buffer).setUint32(whole.length - 6, 4, true);
    await expect(readZip(whole)).rejects.toThrow(RangeError);
  });
});
