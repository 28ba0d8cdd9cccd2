/** Programs round heights to their decimals: half a step of a thousandth of an inch, the coarsest met. mm */
export const HEIGHT_ROUNDING = 0.0127;
