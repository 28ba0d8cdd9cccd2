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
  /** The joint that it belongs to: it wants the sanding block once if any of its fits does. The fit itself when left out. */
  readonly joint?: string;
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
  /** Between these, 95.45 of 100 simulated clearances lie, as many below as above: what two standard uncertainties hold. mm */
  readonly monteCarlo: readonly [number, number];
}

/** How one joint will probably turn out, from simulation: tight if any of its fits is, else slack if any is. The three sum to 1. */
export interface PredictedJoint {
  readonly id: string;
  readonly tight: number;
  readonly wanted: number;
  readonly slack: number;
}
