/** Something uncertain that several fits share: a cutter's diameter, a board's map, a machine. Standard uncertainty in mm. */
export interface ErrorSource {
  readonly id: string;
  readonly u: number;
  /** What could be done about it, and the uncertainty that would be left. */
  readonly remedy?: { readonly what: string; readonly u: number };
}

/** What is known of one fit before it is cut. mm. */
export interface FitForecast {
  readonly id: string;
  /** The clearance to expect. */
  readonly clearance: number;
  /** The clearance with which it counts as wanted. */
  readonly window: readonly [number, number];
  /** How much of each source's error goes into the clearance: −1 for a thickness, 1 for a diameter in a slot, 2 between ends. */
  readonly shares: Readonly<Record<string, number>>;
  /** Standard uncertainty of its own, shared with no other fit. */
  readonly own: number;
}

/** How one fit will probably turn out. The three chances sum to 1. */
export interface PredictedFit {
  readonly id: string;
  readonly clearance: number;
  /** Standard uncertainty of the clearance, mm. */
  readonly u: number;
  readonly tight: number;
  readonly wanted: number;
  readonly slack: number;
  /** The clearance when every error is at two standard uncertainties against it, to either side. mm */
  readonly worstCase: readonly [number, number];
  /** Two standard uncertainties to either side, errors added as root of squares. mm */
  readonly rootSumSquare: readonly [number, number];
}
