import { type AsCutPart, type Proof, type RuleResult, tabsWanted } from '@haunch/model';
import type { HeldItem, Judgement } from './judgement.js';
import { programSeconds } from './run-time.js';

const partOf = (j: Judgement, { judged, kerf }: HeldItem): AsCutPart => ({
  item: judged.item.item,
  cut: judged.cut,
  outlines: judged.piece === null ? [] : [judged.piece.outer, ...judged.piece.holes],
  gouge: judged.gouge,
  excess: judged.excess,
  tabs: kerf.strong.filter((b) => j.attachment.anchored(judged.item.item, b)).length,
  tabsWanted: tabsWanted(j.input.holding, kerf.perimeter),
});

/** The proof of a judgement with what the rules say of it. */
export const proofOf = (j: Judgement, rules: readonly RuleResult[]): Proof => ({
  kind: 'proof',
  board: j.input.board.id,
  pass: rules.every((r) => r.verdict !== 'fail'),
  rules,
  parts: j.items.map((i) => partOf(j, i)),
  joints: j.joints,
  blocks: j.reading.blocks,
  seconds: programSeconds(j.reading, j.stretches, j.input.machine),
});
