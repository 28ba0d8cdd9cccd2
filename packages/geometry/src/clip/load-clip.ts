/// <reference path="./wasm.d.ts" />
import Clipper2Z from 'clipper2-wasm/dist/es/clipper2z.js';
import wasmBinary from 'clipper2-wasm/dist/es/clipper2z.wasm';
import { type Clip, clipOf } from './clip.js';

let loading: Promise<Clip> | undefined;

/**
 * Loads the polygon kernel once for this thread (25–60 ms) and answers with it. Works in Node and in a
 * browser worker; the page's policy must allow `unsafe-eval` for it.
 */
export const loadClip = (): Promise<Clip> => {
  loading ??= Clipper2Z({ wasmBinary: wasmBinary as unknown as ArrayBuffer }).then(clipOf);
  return loading;
};
