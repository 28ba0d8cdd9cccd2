/** A plate as it is drawn in space. World coordinates where it stands in the finished piece, mm. */
export interface DrawnPlate {
  readonly id: string;
  readonly name: string;
  /** Corners of triangles, three figures each, and the way each looks. */
  readonly positions: Float32Array;
  readonly normals: Float32Array;
  /** Ends of arrises, three figures each. */
  readonly lines: Float32Array;
  readonly middle: readonly [number, number, number];
}

/** A step of putting together. */
export interface DrawnStep {
  readonly number: number;
  readonly moving: readonly string[];
  readonly standing: readonly string[];
  /** Those of what stands that are joined in this step. */
  readonly partners: readonly string[];
  readonly direction: readonly [number, number, number];
  readonly hands: number;
  /** How many must be there, and what moves, kg. */
  readonly people: number;
  readonly weight: number;
  readonly text: string;
  readonly joints: readonly string[];
  readonly places: readonly {
    readonly joint: string;
    readonly feature: string;
    readonly part: string;
    readonly partner: string;
    readonly at: readonly [number, number, number];
  }[];
}

/** A piece and how it is put together. */
export interface DrawnAssembly {
  readonly name: string;
  readonly count: number;
  readonly plates: readonly DrawnPlate[];
  /** None where no order is known; `why` says why. */
  readonly steps: readonly DrawnStep[];
  readonly why: string | null;
  /** Where every plate is, in their order, after none of the steps, after one … after all: three figures each. */
  readonly offsets: readonly Float32Array[];
}
