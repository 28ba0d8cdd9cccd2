import {
  AmbientLight,
  BufferAttribute,
  BufferGeometry,
  Color,
  DirectionalLight,
  Group,
  LineBasicMaterial,
  LineDashedMaterial,
  LineSegments,
  Mesh,
  MeshLambertMaterial,
  OrthographicCamera,
  Scene,
  Vector3,
  WebGLRenderer,
} from 'three';
import type { DrawnAssembly } from '../../work/assembly-wire.js';
import { offsetsAt, progressAt, seenAt } from './assembly-state.js';

/** Colours of a piece in space. */
export interface SpaceColours {
  readonly wood: string;
  readonly moving: string;
  readonly ink: string;
  readonly way: string;
}

/** From where it is looked at: to the right of its front, and above its floor. Radians. */
export interface Eye {
  readonly azimuth: number;
  readonly elevation: number;
  readonly zoom: number;
}

/** A name in the picture. CSS px. */
export interface PlacedName {
  readonly id: string;
  readonly x: number;
  readonly y: number;
}

/** Room round the piece, as a share of it. */
const ROOM = 1.12;

/**
 * A piece in space, in a worker of its own: what starts and draws slowly there holds up nobody. Draws when it is asked to and never by itself. The faces of what moves are darker and its arrises thicker drawn, and dashes
 * lead from every place that engages to where it goes home.
 * @throws where the browser gives no WebGL
 */
export class Space {
  readonly #renderer: WebGLRenderer;
  readonly #scene = new Scene();
  readonly #camera = new OrthographicCamera();
  readonly #assembly: DrawnAssembly;
  readonly #groups: readonly Group[];
  readonly #meshes: readonly Mesh<BufferGeometry, MeshLambertMaterial>[];
  readonly #ways: LineSegments<BufferGeometry, LineDashedMaterial>;
  readonly #ink: LineBasicMaterial;
  readonly #lamp = new DirectionalLight(0xffffff, 2.2);
  #colours: SpaceColours;
  #at = 0;
  #eye: Eye = { azimuth: 0.48, elevation: 0.37, zoom: 1 };
  #size = { width: 1, height: 1 };

  constructor(canvas: OffscreenCanvas, assembly: DrawnAssembly, colours: SpaceColours) {
    this.#renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true });
    this.#assembly = assembly;
    this.#colours = colours;
    this.#ink = new LineBasicMaterial({ color: colours.ink });
    this.#scene.add(new AmbientLight(0xffffff, 1.4), this.#lamp);
    this.#meshes = assembly.plates.map((p) => {
      const shape = new BufferGeometry();
      shape.setAttribute('position', new BufferAttribute(p.positions, 3));
      shape.setAttribute('normal', new BufferAttribute(p.normals, 3));
      // Faces stand back a little, so that their arrises are seen whole.
      return new Mesh(
        shape,
        new MeshLambertMaterial({ polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 }),
      );
    });
    this.#groups = assembly.plates.map((p, i) => {
      const lines = new BufferGeometry();
      lines.setAttribute('position', new BufferAttribute(p.lines, 3));
      const group = new Group();
      group.add(this.#meshes[i]!, new LineSegments(lines, this.#ink));
      this.#scene.add(group);
      return group;
    });
    this.#ways = new LineSegments(
      new BufferGeometry(),
      new LineDashedMaterial({ dashSize: 12, gapSize: 8, depthTest: false }),
    );
    this.#ways.renderOrder = 1;
    this.#scene.add(this.#ways);
    this.#camera.up.set(0, 0, 1);
  }

  /** The size of the picture, CSS px and dots for each, and its colours. */
  resize(
    { width, height, dots }: { readonly width: number; readonly height: number; readonly dots: number },
    colours: SpaceColours,
  ): void {
    this.#colours = colours;
    this.#size = { width, height };
    this.#renderer.setPixelRatio(dots);
    this.#renderer.setSize(width, height, false);
  }

  /** Looks from elsewhere. */
  look(eye: Eye): void {
    this.#eye = eye;
  }

  /** Brings the assembly to a place on the slider. */
  show(at: number): void {
    this.#at = at;
  }

  /** Draws, and answers where the names of what moves and of its partners stand. */
  draw(): readonly PlacedName[] {
    const { plates, steps } = this.#assembly;
    const { step, share } = progressAt(this.#at, steps.length);
    const now = step > 0 ? steps[step - 1] : undefined;
    const moving = new Set(share < 1 ? now?.moving : []);
    const seen = seenAt(this.#assembly, this.#at);
    const offsets = offsetsAt(this.#assembly, this.#at);
    this.#ink.color.set(this.#colours.ink);
    plates.forEach((p, i) => {
      const group = this.#groups[i]!;
      group.visible = seen.has(p.id);
      group.position.set(offsets[3 * i]!, offsets[3 * i + 1]!, offsets[3 * i + 2]!);
      this.#meshes[i]!.material.color.set(moving.has(p.id) ? this.#colours.moving : this.#colours.wood);
    });
    this.#waysOf(now, share);
    this.#aim(seen, step);
    this.#renderer.render(this.#scene, this.#camera);
    const named = now ? new Set([...now.moving, ...now.partners]) : seen;
    return plates.flatMap((p, i) => {
      if (!named.has(p.id)) return [];
      const at = new Vector3(...p.middle).add(this.#groups[i]!.position).project(this.#camera);
      return [
        {
          id: p.id,
          x: ((at.x + 1) / 2) * this.#size.width,
          y: ((1 - at.y) / 2) * this.#size.height,
        },
      ];
    });
  }

  #waysOf(step: DrawnAssembly['steps'][number] | undefined, share: number): void {
    const { plates, offsets } = this.#assembly;
    const ends = (share < 1 && step ? step.places : []).flatMap((p) => {
      const i = plates.findIndex((x) => x.id === p.part);
      const [from, to] = [offsets[step!.number - 1]!, offsets[step!.number]!];
      const off = (k: number): number => to[3 * i + k]! + (from[3 * i + k]! - to[3 * i + k]!) * (1 - share);
      const home = [0, 1, 2].map((k) => p.at[k]! + to[3 * i + k]!);
      return [...[0, 1, 2].map((k) => p.at[k]! + off(k)), ...home];
    });
    this.#ways.geometry.dispose();
    this.#ways.geometry = new BufferGeometry();
    this.#ways.geometry.setAttribute('position', new BufferAttribute(Float32Array.from(ends), 3));
    this.#ways.material.color = new Color(this.#colours.way);
    this.#ways.visible = ends.length > 0;
    if (ends.length > 0) this.#ways.computeLineDistances();
  }

  /** Turns the camera, and fits it round what the step shows at its beginning and at its end. */
  #aim(seen: ReadonlySet<string>, step: number): void {
    const { azimuth, elevation, zoom } = this.#eye;
    const [sa, ca, se, ce] = [Math.sin(azimuth), Math.cos(azimuth), Math.sin(elevation), Math.cos(elevation)];
    const eye = new Vector3(sa * ce, -ca * ce, se);
    const right = new Vector3(ca, sa, 0);
    const up = new Vector3().crossVectors(eye, right);
    const box = { x0: Infinity, x1: -Infinity, y0: Infinity, y1: -Infinity, z0: Infinity, z1: -Infinity };
    const { plates, offsets } = this.#assembly;
    const p = new Vector3();
    plates.forEach((plate, i) => {
      if (!seen.has(plate.id)) return;
      for (const o of [offsets[Math.max(0, step - 1)]!, offsets[step]!])
        for (let k = 0; k < plate.lines.length; k += 3) {
          p.set(
            plate.lines[k]! + o[3 * i]!,
            plate.lines[k + 1]! + o[3 * i + 1]!,
            plate.lines[k + 2]! + o[3 * i + 2]!,
          );
          const [x, y, z] = [p.dot(right), p.dot(up), p.dot(eye)];
          box.x0 = Math.min(box.x0, x);
          box.x1 = Math.max(box.x1, x);
          box.y0 = Math.min(box.y0, y);
          box.y1 = Math.max(box.y1, y);
          box.z0 = Math.min(box.z0, z);
          box.z1 = Math.max(box.z1, z);
        }
    });
    const middle = new Vector3()
      .addScaledVector(right, (box.x0 + box.x1) / 2)
      .addScaledVector(up, (box.y0 + box.y1) / 2)
      .addScaledVector(eye, (box.z0 + box.z1) / 2);
    const { width, height } = this.#size;
    const deep = box.z1 - box.z0 + 100;
    const scale = (Math.max((box.x1 - box.x0) / width, (box.y1 - box.y0) / height) * ROOM) / zoom;
    const [w, h] = [(width * scale) / 2, (height * scale) / 2];
    Object.assign(this.#camera, { left: -w, right: w, top: h, bottom: -h, near: 0, far: 2 * deep });
    this.#camera.position.copy(middle).addScaledVector(eye, deep);
    this.#camera.lookAt(middle);
    this.#camera.updateProjectionMatrix();
    this.#camera.updateMatrixWorld();
    this.#lamp.position.copy(eye).addScaledVector(up, 0.9).addScaledVector(right, -0.5);
  }
}
