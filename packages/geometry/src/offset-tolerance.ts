import { TOUCH } from './segment-intersections.js';

/**
 * Points nearer than this are one node of an offset, mm. It must not be less than the touch tolerance: what
 * touches an end is that end, and so must be one node with it.
 */
export const COINCIDE = TOUCH;

/**
 * A piece of an offset may be nearer to its source than it should by this much, mm, before it is dropped.
 * True pieces miss the distance by rounding only; wrong ones that pass are cut off as loose ends.
 */
export const NEARER = 1e-8;

/** Curves between the same two nodes whose middles are nearer than this run over each other, mm. */
export const SAME_COURSE = 1e-6;

/** An offset thinner than this on average encloses nothing, mm. */
export const THIN = 1e-6;

/** The most that tidying may take a result off its course, mm: a tenth of what is promised. */
export const OFF_COURSE = 1e-7;
