import { noSize } from '../diagnostics.js';
import type { Entity } from '../drawing.js';
import { type Account, refOf } from './account.js';
import { selfCrossing, selfTouching } from './diagnostics.js';
import { type Loop, loopEntity } from './loop.js';
import { partTouching } from './part-touching.js';
import { selfContact } from './self-crossing.js';

/** So many are listed one by one. */
const LISTED = 10;
/** A closed curve that encloses no more than this, mm², is a line drawn there and back. */
const EMPTY = 1e-4;
/** A contour that touches itself may have to be parted so many times. */
const TIMES = 8;

/** Loops that enclose something and do not cross themselves, those that touch themselves parted; the others are reported. */
export function soundLoops(loops: readonly Loop[], account: Account): Loop[] {
  const { file, diagnostics } = account;
  const empty: Entity[] = [];
  const sound: Loop[] = [];
  let listed = 0;
  const look = (l: Loop, times: number): void => {
    const contact = l.circle === null ? selfContact(l.ring) : null;
    if (contact?.kind === 'crosses') {
      if (listed++ < LISTED) diagnostics.push(selfCrossing(file, loopEntity(l), contact.at));
      account.unclear.push({
        code: 'read/self-crossing',
        at: contact.at,
        entities: l.entities.map(refOf),
        strokes: [{ vertices: l.ring.vertices, closed: true }],
      });
      return;
    }
    if (contact !== null) {
      const parted = times < TIMES ? partTouching(l, contact.at, account.book) : null;
      if (listed++ < LISTED) diagnostics.push(selfTouching(file, loopEntity(l), contact.at, parted !== null));
      if (parted !== null) {
        for (const own of parted.loops) look(own, times + 1);
        return;
      }
    }
    if (l.area <= EMPTY) empty.push(loopEntity(l));
    else sound.push(l);
  };
  for (const l of loops) look(l, 0);
  if (empty.length > 0) {
    diagnostics.push(noSize(file, 'closed', { count: empty.length, first: empty[0]! }));
    account.leaveOut('no size', empty);
  }
  return sound;
}
