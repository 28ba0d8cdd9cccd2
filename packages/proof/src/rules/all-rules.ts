import { readable } from './p01-readable.js';
import { safeStart } from './p02-safe-start.js';
import { spindleAndFeed } from './p03-spindle-and-feed.js';
import { rapids } from './p04-rapids.js';
import { envelope } from './p05-envelope.js';
import { spoilboard } from './p06-spoilboard.js';
import { keepOuts } from './p07-keep-outs.js';
import { gouges } from './p08-gouges.js';
import { uncut } from './p09-uncut.js';
import { floors } from './p10-floors.js';
import { held } from './p11-held.js';
import { released } from './p12-released.js';
import { tabPlaces } from './p13-tab-places.js';
import { limits } from './p14-limits.js';
import { tool } from './p15-tool.js';
import { joints } from './p16-joints.js';
import { programEnd } from './p17-end.js';
import { entry } from './p18-entry.js';
import { passDepth } from './p19-pass-depth.js';
import { upCut } from './p20-up-cut.js';
import { holderAndHood } from './p21-holder-and-hood.js';
import type { Rule } from './rule.js';

/** All rules, in the order of their numbers; docs/rules.md has a page for each. */
export const RULES: readonly Rule[] = [
  readable,
  safeStart,
  spindleAndFeed,
  rapids,
  envelope,
  spoilboard,
  keepOuts,
  gouges,
  uncut,
  floors,
  held,
  released,
  tabPlaces,
  limits,
  tool,
  joints,
  programEnd,
  entry,
  passDepth,
  upCut,
  holderAndHood,
];
