import { describe, expect, it } from 'vitest';
import type { DrawnAssembly } from '../../work/assembly-wire.js';
import { offsetsAt, progressAt, seenAt, stepOfJoint } from './assembly-state.js';

const step = (number: number, moving: string, standing: string, joint: string) =>
  ({
    number,
    moving: [moving],
    standing: [standing],
    joints: [joint],
  }) as unknown as DrawnAssembly['steps'][number];
const assembly = {
  plates: ['A', 'B', 'C'].map((id) => ({ id })),
  steps: [step(1, 'B', 'A', 'AB'), step(2, 'C', 'B', 'BC')],
  offsets: [
    [0, 0, 0, 0, 0, 80, 0, 0, 140],
    [0, 0, 0, 0, 0, 0, 0, 0, 60],
    [0, 0, 0, 0, 0, 0, 0, 0, 0],
  ].map((o) => Float32Array.from(o)),
} as unknown as DrawnAssembly;

describe('an assembly on the way', () => {
  it('is in the step that is under way, and done with it at its whole number', () => {
    expect([0, 0.25, 1, 1.5, 2, 9].map((at) => progressAt(at, 2))).toEqual([
      { step: 0, share: 0 },
      { step: 1, share: 0.25 },
      { step: 1, share: 1 },
      { step: 2, share: 0.5 },
      { step: 2, share: 1 },
      { step: 2, share: 1 },
    ]);
  });

  it('has each plate where the moves have brought it', () => {
    expect([...offsetsAt(assembly, 0)]).toEqual([...assembly.offsets[0]!]);
    expect([...offsetsAt(assembly, 0.5)]).toEqual([0, 0, 0, 0, 0, 40, 0, 0, 100]);
    expect([...offsetsAt(assembly, 2)]).toEqual(Array(9).fill(0));
  });

  it('shows all of it apart first, then what has been taken in hand', () => {
    expect([...seenAt(assembly, 0)]).toEqual(['A', 'B', 'C']);
    expect([...seenAt(assembly, 0.1)].sort()).toEqual(['A', 'B']);
    expect([...seenAt(assembly, 1.1)].sort()).toEqual(['A', 'B', 'C']);
  });

  it('says in which step a joint goes home', () =>
    expect(['AB', 'BC', 'XY'].map((j) => stepOfJoint(assembly, j))).toEqual([1, 2, 0]));
});
