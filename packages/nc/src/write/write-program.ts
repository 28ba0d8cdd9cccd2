import {
  type Block,
  type Diagnostic,
  fail,
  type Move,
  type Outcome,
  ok,
  type Place,
  type PostContext,
  type PostMove,
  type PostProcessor,
  type PostState,
  type Program,
  type Toolpath,
  type Word,
} from '@haunch/model';
import { assertMove, assertPost } from './assert-input.js';
import { blockWriter } from './block-writer.js';
import { arcEndsApart, blockTooLong, cutFromUnknown, feedTooSmall, numberTooGreat } from './diagnostics.js';
import { lowerArc, type StepMove } from './lower-arc.js';

/** What a program is called. */
export interface WriteProgramOptions {
  readonly title: string;
}

const code = (letter: string, value: number): Word => ({ letter, value, integer: true });

/** How far the radii at start and end of an arc in a toolpath may differ, mm. */
const RADII_AGREE = 0.002;
/** A feed this much of a step below a whole one is that one: rounding noise of the conversion. */
const NOISE = 1e-6;
/** The most diagnostics of one writing. */
const MOST = 20;

/**
 * Writes a toolpath (mm, mm/min) as the text of a program in the post's dialect. The host owns modal state and lowers
 * what the dialect lacks: arcs to chords, long arcs to shorter ones, helices to chords; it converts units, rounds to
 * the dialect's decimals, and solves arc centres from the rounded ends, so that both radii agree within 0.0005 mm.
 * Moves that round to no motion are left out. Same input, same bytes; every line's `lineMoves` names its move.
 * Fails, naming the workingstep, where the dialect cannot express a move.
 * @throws RangeError for numbers that are not finite or make no sense; TypeError for a post of another contract, or
 * one that writes no words.
 * @see NISTIR 6556 (2000), 3.5.3 for the limit on radii; ISO 6983-1 for block, word, address
 */
export function writeProgram(
  toolpath: Toolpath,
  post: PostProcessor,
  options: WriteProgramOptions,
): Outcome<Program> {
  assertPost(post);
  const { dialect } = post;
  const { board } = toolpath;
  const inUnit = dialect.unit === 'mm' ? 1 : 25.4;
  const steps = 10 ** dialect.decimals;
  const scale = steps / inUnit;
  const feedSteps = 10 ** dialect.feedDecimals;
  const context: PostContext = { board, title: options.title, dialect };
  const writer = blockWriter(dialect, post.name);
  const problems: Diagnostic[] = [];

  /** Where the cutter is: as wanted, mm, and as written, whole steps. Null where it is not known. */
  let wanted: Place | null = null;
  let at: Place | null = null;
  /** The change of cutter since which the cutter may have been moved by hand, by its index. */
  let changed: number | null = null;
  let feed: number | null = null;
  let rpm = 0;
  let cutter: number | null = null;
  /** A canned cycle is in force. */
  let cycling = false;
  /** The moves before this one have been written with an earlier one. */
  let written = 0;
  /** Height of the Z zero of the work offset in force, in the toolpath's coordinates. */
  let zero = 0;

  const value = (s: number): number => s / steps;
  const rounded = (p: Place): Place => ({
    x: Math.round(p.x * scale) + 0,
    y: Math.round(p.y * scale) + 0,
    z: Math.round((p.z - zero) * scale) + 0,
  });
  const state = (): PostState => ({
    x: at && changed === null ? value(at.x) : null,
    y: at && changed === null ? value(at.y) : null,
    z: at && changed === null ? value(at.z) : null,
    feed,
    rpm,
    cutter,
  });
  const say = (d: Diagnostic): void => {
    if (problems.length < MOST) problems.push(d);
  };
  const write = (block: Block, index: number | null, step: string | null): void => {
    const fault = writer.write(block, index);
    if (fault === null) return;
    if (fault.tooLong === 'block') say(blockTooLong(board, step, fault.text, dialect.blockLength));
    else say(numberTooGreat(board, step, fault.text, dialect.words?.implied?.whole ?? 0));
  };
  const put = (
    blocks: ReturnType<PostProcessor['move']>,
    index: number | null,
    step: string | null,
  ): void => {
    if (cycling) {
      cycling = false;
      write({ words: [code('G', 80)] }, index, step);
    }
    for (const block of blocks) write(block, index, step);
  };
  const send = (move: PostMove, index: number): void =>
    put(post.move(move, state(), context), index, move.from);

  /** The feed in the dialect's unit, or null when it rounds to nothing. */
  const feedWord = (move: Move & { feed: number }): number | null => {
    // Downwards: a feed at the machine's limit must not be rounded beyond it.
    const f = Math.floor((move.feed / inUnit) * feedSteps + NOISE) / feedSteps;
    if (f > 0) return f;
    say(feedTooSmall(board, move.from, move.feed, dialect.name));
    return null;
  };

  function rapid(to: Place, index: number, from: string): void {
    send({ kind: 'rapid', x: value(to.x), y: value(to.y), z: value(to.z), from }, index);
    at = to;
    changed = null;
  }

  function cut(move: Move & { kind: 'linear' | 'circular' }, to: Place, index: number): void {
    const from = move.from;
    if (!wanted || !at) {
      say(cutFromUnknown(board, from));
      return;
    }
    // After a change of cutter the machine is first brought back to where the toolpath left it.
    if (changed !== null) rapid(at, changed, from);
    const f = feedWord(move);
    if (f === null) return;
    if (move.kind === 'linear') {
      line(to, f, index, from);
      return;
    }
    for (const s of arcSteps(move, wanted, at)) {
      if (s.kind === 'line') line(s.to, f, index, from);
      else {
        const origin: { x: number; y: number } = dialect.arcs.centre === 'absolute' ? { x: 0, y: 0 } : at;
        const turn = s.ccw ? 'ccw' : 'cw';
        const [i, j] = [value(s.centre.x - origin.x), value(s.centre.y - origin.y)];
        const r = value(s.radius ?? Math.round(Math.hypot(s.centre.x - at.x, s.centre.y - at.y)));
        const [x, y, z] = [value(s.to.x), value(s.to.y), value(s.to.z)];
        send({ kind: 'circular', x, y, z, i, j, r, turn, feed: f, from }, index);
        at = s.to;
        feed = f;
      }
    }
  }

  /** A straight cut to a place in steps; none when the cutter stands there. */
  function line(to: Place, f: number, index: number, from: string): void {
    if (at && to.x === at.x && to.y === at.y && to.z === at.z) return;
    send({ kind: 'linear', x: value(to.x), y: value(to.y), z: value(to.z), feed: f, from }, index);
    at = to;
    feed = f;
  }

  /**
   * Writes a hole that is drilled from here in one go, and left faster than it was drilled, as a canned cycle, which returns to this
   * height; false when the move is none. The cycle goes down at the drill's feed all the way, since its own approach is a rapid.
   * The moves that it makes are not written again.
   */
  function drill(move: Move & { kind: 'linear' }, index: number): boolean {
    if (dialect.drilling !== 'cycles' || !at || !wanted || changed !== null) return false;
    // Between two pecks the drill comes from the hole itself.
    if (toolpath.moves[index - 1]?.kind !== 'rapid') return false;
    let to = at;
    let slowest = move;
    let next = index;
    for (let m: Move | undefined = move; m?.kind === 'linear'; m = toolpath.moves[++next]) {
      const place = rounded(m.to);
      if (place.x !== at.x || place.y !== at.y || place.z >= to.z) break;
      to = place;
      if (m.feed < slowest.feed) slowest = m;
    }
    if (to === at) return false;
    const wait = toolpath.moves[next];
    const dwell = wait?.kind === 'dwell' && wait.seconds > 0 ? wait.seconds : 0;
    const last = wait?.kind === 'dwell' ? next + 1 : next;
    const back = toolpath.moves[last];
    if (back?.kind !== 'rapid' && !(back?.kind === 'linear' && back.feed > slowest.feed)) return false;
    const up = rounded(back.to);
    if (up.x !== at.x || up.y !== at.y || up.z < at.z) return false;
    const f = feedWord(slowest);
    if (f === null) return false;
    const words = [
      ...(cycling ? [] : [code('G', 99)]),
      code('G', dwell > 0 ? 82 : 81),
      ...(['x', 'y'] as const).map((a) => ({ letter: a.toUpperCase(), value: value(to[a]) })),
      { letter: 'Z', value: value(to.z) },
      { letter: 'R', value: value(at.z) },
      ...(dwell > 0 ? [dwellWord(dwell)] : []),
      { letter: 'F', value: f },
    ];
    write({ words }, index, move.from);
    // What is modal after a cycle is said anew.
    writer.forget();
    cycling = true;
    feed = f;
    written = last;
    return true;
  }

  /** P of a dwell in a cycle, in the dialect's unit of time. */
  const dwellWord = (seconds: number): Word =>
    dialect.meaning?.dwell === 'milliseconds'
      ? code('P', Math.round(seconds * 1000))
      : { letter: 'P', value: seconds };

  function arcSteps(move: Move & { kind: 'circular' }, start: Place, grid: Place): readonly StepMove[] {
    const { centre, to: end } = move;
    const startRadius = Math.hypot(start.x - centre.x, start.y - centre.y);
    const endRadius = Math.hypot(end.x - centre.x, end.y - centre.y);
    if (Math.abs(startRadius - endRadius) > RADII_AGREE || startRadius === 0) {
      say(arcEndsApart(board, move.from, startRadius, endRadius));
      return [];
    }
    const scaled = (p: Place): Place => ({ x: p.x * scale, y: p.y * scale, z: (p.z - zero) * scale });
    return lowerArc({
      at: grid,
      from: scaled(start),
      to: scaled(end),
      centre: { x: centre.x * scale, y: centre.y * scale },
      ccw: move.turn === 'ccw',
      scale,
      arcs: dialect.arcs,
    });
  }

  if (dialect.percent) writer.percent();
  put(post.start(context), null, null);
  toolpath.moves.forEach((move, index) => {
    assertMove(move, index);
    if (index < written) return;
    switch (move.kind) {
      case 'rapid': {
        const to = rounded(move.to);
        if (!at || changed !== null || to.x !== at.x || to.y !== at.y || to.z !== at.z)
          rapid(to, index, move.from);
        wanted = move.to;
        break;
      }
      case 'linear':
      case 'circular': {
        if (move.kind === 'linear' && drill(move, index)) break;
        const to = rounded(move.to);
        cut(move, to, index);
        if (wanted) {
          wanted = move.to;
          at = to;
        }
        break;
      }
      case 'cutter':
        send(move, index);
        // Where the machine stands after a change of cutter is its own affair: say everything anew.
        writer.forget();
        changed = index;
        feed = null;
        rpm = 0;
        cutter = move.number;
        break;
      case 'spindle':
        send(move, index);
        rpm = move.rpm;
        break;
      case 'dwell':
        if (move.seconds > 0) send(move, index);
        break;
      case 'note':
        send(move, index);
        break;
      case 'pause':
        // Program stop is M0 in every language of word address, so the host writes it for all posts.
        put([{ words: [code('M', 0)], comment: move.text }], index, move.from);
        writer.forget();
        changed = index;
        break;
      case 'offset':
        put([{ words: [code('G', move.code)] }], index, move.from);
        writer.forget();
        zero = move.z;
        if (wanted) at = rounded(wanted);
        break;
    }
  });
  put(post.end(state(), context), null, null);
  if (dialect.percent) writer.percent();
  if (problems.length > 0) return fail(...problems);
  return ok({
    kind: 'program',
    board,
    dialect: dialect.name,
    extension: dialect.extension,
    text: writer.text(),
    lineMoves: writer.lineMoves,
  });
}
