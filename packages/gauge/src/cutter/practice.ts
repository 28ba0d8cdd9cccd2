/** A common bias of slot and peg beyond this is scale or calliper, not cutter. mm; common practice, no source. */
export const COMMON_BIAS_LIMIT = 0.03;

/** A ladder is due when the diameter may have moved this far since the last one. mm; common practice, no source. */
export const DRIFT_LIMIT = 0.02;

/** What is expected of wear before anything is known of a cutter: mm of diameter a metre run, and its doubt. Common practice, no source. */
export const USUAL_WEAR = { perMetre: -2e-5, doubt: 3e-5 };

/** A diameter this far from what the job says of the cutter is likely another cutter: mm, or this share of it. Common practice, no source. */
export const OTHER_CUTTER = { mm: 0.3, share: 0.05 };
