import { expect, it } from 'vitest';
import { lacking } from './unsupported.js';

const all = { Worker: 1, WebAssembly: 1, indexedDB: 1, structuredClone: 1, DecompressionStream: 1 };

it('names what a browser lacks, and nothing in one that will do', () => {
  expect(lacking(all)).toEqual([]);
  expect(lacking({ ...all, DecompressionStream: undefined, Worker: null })).toEqual([
    'Worker',
    'DecompressionStream',
  ]);
});
