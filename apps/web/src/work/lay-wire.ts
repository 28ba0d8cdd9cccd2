/** Where a part lies, as the job file has it: board, lower left corner of the box round it, turn. mm, degrees. */
export interface WirePlacement {
  readonly board: string;
  readonly at: readonly [number, number];
  readonly turnDegrees: number;
}

/** Placements by part id. */
export type WirePlacements = Readonly<Record<string, WirePlacement>>;

/** What the referee says of placements. */
export interface RefereeWord {
  readonly valid: boolean;
  /** Each breach in the referee's words, with the parts that take part in it and its place. */
  readonly breaches: readonly {
    readonly items: readonly string[];
    readonly board: string | null;
    readonly message: string;
    readonly at: { readonly x: number; readonly y: number } | null;
  }[];
}

/** A better layout, while it is looked for. */
export interface WireBetter {
  readonly placements: WirePlacements;
  /** What is taken of the sheets, m². */
  readonly extent: number;
  readonly number: number;
  /** Whether every part has room in it. */
  readonly whole: boolean;
}
