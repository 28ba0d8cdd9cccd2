import * as Comlink from 'comlink';
import type { DrawnAssembly } from '../../work/assembly-wire.js';
import { type Eye, type PlacedName, Space, type SpaceColours } from './space.js';

/** The size of a picture: CSS px, and dots for each of them. */
export interface PictureSize {
  readonly width: number;
  readonly height: number;
  readonly dots: number;
}

/** What the worker that draws a piece in space does. */
export interface SpaceService {
  /** Takes the canvas; false where it cannot be drawn on in space. */
  start(canvas: OffscreenCanvas, assembly: DrawnAssembly, colours: SpaceColours): boolean;
  resize(size: PictureSize, colours: SpaceColours): void;
  /** Draws, and answers where names stand. */
  draw(at: number, eye: Eye): readonly PlacedName[];
}

let space: Space | null = null;

const service: SpaceService = {
  start(canvas, assembly, colours) {
    try {
      space = new Space(canvas, assembly, colours);
      return true;
    } catch {
      return false;
    }
  },
  resize: (size, colours) => space?.resize(size, colours),
  draw(at, eye) {
    space?.look(eye);
    space?.show(at);
    return space?.draw() ?? [];
  },
};

Comlink.expose(service);
