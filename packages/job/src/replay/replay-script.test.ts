import { expect, it } from 'vitest';
import type { ReplayData } from './replay-html.js';
import { REPLAY_SCRIPT } from './replay-script.js';

type Stroke = { readonly colour: string; readonly ways: number };

/** Runs the page's script with a page of stand-ins: what was stroked, and how high the picture is. */
function played(data: ReplayData, window: { readonly innerHeight: number; readonly width: number }) {
  const strokes: Stroke[] = [];
  let ways = 0;
  const context: Record<string, unknown> = new Proxy(
    {
      beginPath: () => (ways = 0),
      moveTo: () => ways++,
      stroke: () => strokes.push({ colour: String(context.strokeStyle), ways }),
    } as Record<string, unknown>,
    { get: (t, key: string) => t[key] ?? (() => undefined) },
  );
  const element = (): Record<string, unknown> => ({
    style: {},
    value: '10',
    parentElement: { clientWidth: window.width },
    getContext: () => context,
    addEventListener: () => undefined,
    setAttribute: () => undefined,
    replaceChildren: () => undefined,
    append: () => undefined,
  });
  const elements = new Map<string, Record<string, unknown>>();
  const byId = (id: string) => {
    const e = elements.get(id) ?? element();
    elements.set(id, e);
    return e;
  };
  byId('data').textContent = JSON.stringify(data);
  new Function('document', 'window', 'getComputedStyle', 'matchMedia', 'location', REPLAY_SCRIPT)(
    { getElementById: byId, createElement: element, documentElement: {} },
    { innerHeight: window.innerHeight, devicePixelRatio: 1, addEventListener: () => undefined },
    () => ({ getPropertyValue: (name: string) => name }),
    () => ({ addEventListener: () => undefined }),
    { search: '?at=100', hash: '' },
  );
  const height = Number.parseFloat(String((byId('cut').style as Record<string, string>).height));
  return { strokes, height };
}

/** Five chords of 1 mm, half as deep as the sheet, with a cutter of 6 mm: x, y, z, line, hundredths of a second, cut, radius. */
const chords: ReplayData = {
  start: [0, 0, 9],
  moves: [1, 2, 3, 4, 5].map((x) => [x, 0, 9, x, x * 100, 1, 3]) as unknown as ReplayData['moves'],
  lines: ['', '', '', '', ''],
  outlines: [],
  board: [0, 0, 100, 300],
  top: 18,
  bottom: 0,
};

it('keeps the bright core of what is cut part of the way through short chords', () => {
  const { strokes } = played(chords, { innerHeight: 900, width: 1000 });
  const cores = strokes.filter((s) => s.colour === '--part-way').map((s) => s.ways);
  expect(strokes.filter((s) => s.colour === '--kerf').map((s) => s.ways)).toEqual([1, 1, 1, 1, 1]);
  expect(cores).toEqual([1, 2, 3, 4, 5]);
  const through = {
    ...chords,
    start: [0, 0, 0] as const,
    moves: chords.moves.map((m) => m.map((v, k) => (k === 2 ? 0 : v))) as unknown as ReplayData['moves'],
  };
  expect(
    played(through, { innerHeight: 900, width: 1000 }).strokes.some((s) => s.colour === '--part-way'),
  ).toBe(false);
});

it('leaves room below an upright sheet for the slider', () => {
  // 160 × 360 with its margin: as high as 0.62 of the window, but no narrower than 280.
  expect(played(chords, { innerHeight: 1200, width: 1000 }).height).toBeCloseTo(0.62 * 1200, 6);
  expect(played(chords, { innerHeight: 900, width: 1000 }).height).toBeCloseTo((280 * 360) / 160, 6);
  // A wide sheet fills the page's width: 360 × 160 with its margin.
  const wide = { ...chords, board: [0, 0, 300, 100] as const };
  expect(played(wide, { innerHeight: 900, width: 720 }).height).toBeCloseTo((720 * 160) / 360, 6);
});
