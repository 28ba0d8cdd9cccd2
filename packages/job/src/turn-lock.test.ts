import { readFileSync } from 'node:fs';
import { readMaster } from '@haunch/joinery';
import type { Board, Master } from '@haunch/model';
import { describe, expect, it } from 'vitest';
import { mateLine } from './mate-line.js';
import { lockTurns } from './turn-lock.js';

const masterAt = (path: string): Master => {
  const read = readMaster(
    readFileSync(new URL(`../../../docs/examples/${path}`, import.meta.url), 'utf8'),
    path,
  );
  if (!read.ok) throw new Error(read.diagnostics[0]?.message);
  return read.value;
};
const sideboard = masterAt('sideboard/sideboard-18.master.json');
const rack = masterAt('pigeonholes/pigeonholes.master.json');
const job = { file: 'job.json', lineOf: () => 7 };
const board = (grain: Board['grain']) => [{ grain } as Board];

/** Whether the common line of a mate lies along the same axis in both plates, worked out anew from the lock. */
const alike = (master: Master, lock: ReadonlyMap<string, boolean>): boolean[] =>
  master.mates.map((mate) => {
    const line = mateLine(master, mate)!;
    const alongX = (part: string, { x }: { x: number }) => Math.abs(x) > 0.5 !== lock.get(part)!;
    return alongX(mate.slotPart, line.inSlot) === alongX(mate.enteringPart, line.inEntering);
  });

describe('lockTurns', () => {
  it('lays every plate of a piece in two directions so that no mate is turned', () => {
    const found = lockTurns(job, rack, () => board(null));
    if (!found.ok) throw new Error(found.diagnostics[0]?.message);
    expect(found.value.size).toBe(rack.parts.length);
    expect(new Set(alike(rack, found.value))).toEqual(new Set([true]));
    // Were one plate turned all the same, its mates would be.
    const other = new Map(found.value).set('U1', !found.value.get('U1')!);
    expect(alike(rack, other)).toContain(false);
  });

  it('lets grain go before, and names the mates that it turns', () => {
    const found = lockTurns(job, sideboard, () => board('x'));
    expect(found.ok).toBe(false);
    expect(found.diagnostics.map((d) => [d.code, d.locus.line])).toEqual([['job/turned-mates', 7]]);
    expect(found.diagnostics[0]!.message).toContain('M-EL-PL');
  });

  it('refuses plates in three directions whatever the grain: three lines cannot lie along two axes', () => {
    const found = lockTurns(job, sideboard, () => board(null));
    expect(found.diagnostics.map((d) => d.code)).toEqual(['job/turned-mates']);
  });
});
