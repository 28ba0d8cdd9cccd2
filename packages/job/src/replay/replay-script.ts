/** What the replay's page does: draws the cut up to a moment, and keeps text and picture together. Plain script, no library. */
export const REPLAY_SCRIPT = `
(() => {
const data = JSON.parse(document.getElementById('data').textContent);
const { moves, start, lines, outlines, board, top, bottom } = data;
const canvas = document.getElementById('cut');
const slider = document.getElementById('time');
const state = document.getElementById('state');
const list = document.getElementById('lines');
const play = document.getElementById('play');
const pace = document.getElementById('pace');
const end = moves.length === 0 ? 0 : moves[moves.length - 1][4];
slider.max = String(end);
const margin = 30;
const width = board[2] - board[0] + 2 * margin;
const height = board[3] - board[1] + 2 * margin;
const done = document.createElement('canvas');
let drawn = 0;
let now = 0;
let scale = 1;
const style = (name) => getComputedStyle(document.documentElement).getPropertyValue(name).trim();
const view = (c) => {
  c.setTransform(scale, 0, 0, -scale, (margin - board[0]) * scale, (margin + board[3]) * scale);
  c.lineCap = 'round';
  c.lineJoin = 'round';
};
const before = (i) => (i === 0 ? start : moves[i - 1]);
// The path of a motion up to a share of it, and where that ends.
const trace = (c, i, share) => {
  const a = before(i);
  const m = moves[i];
  c.moveTo(a[0], a[1]);
  if (m[5] === 2) {
    const r = Math.hypot(a[0] - m[7], a[1] - m[8]);
    const from = Math.atan2(a[1] - m[8], a[0] - m[7]);
    c.arc(m[7], m[8], r, from, from + m[9] * share, m[9] < 0);
    return [m[7] + r * Math.cos(from + m[9] * share), m[8] + r * Math.sin(from + m[9] * share), a[2] + (m[2] - a[2]) * share];
  }
  const at = [0, 1, 2].map((k) => a[k] + (m[k] - a[k]) * share);
  c.lineTo(at[0], at[1] + (a[0] === at[0] && a[1] === at[1] ? 1e-3 : 0));
  return at;
};
// Whether a motion cuts, but not through.
const partWay = (i) => {
  const [a, b] = [before(i)[2], moves[i][2]];
  return moves[i][5] !== 0 && Math.min(a, b) < top && Math.max(a, b) > bottom + 0.05;
};
const stroke = (c, i, share) => {
  const m = moves[i];
  const low = Math.min(before(i)[2], m[2]);
  c.beginPath();
  const at = trace(c, i, share);
  if (m[5] === 0 || low >= top) {
    c.setLineDash([6 / scale, 6 / scale]);
    c.lineWidth = 1 / scale;
    c.strokeStyle = style('--travel');
    c.stroke();
    c.setLineDash([]);
    return at;
  }
  const w = 2 * Math.max(m[6], 0.5);
  c.lineWidth = w;
  c.strokeStyle = style('--kerf');
  c.stroke();
  if (!partWay(i)) return at;
  c.lineWidth = Math.max(w - 3 / scale, w / 3);
  c.strokeStyle = style('--part-way');
  // The edge of this stroke lies over the core of those just before, all of it where they are short chords.
  let way = 0;
  for (let k = i - 1; k >= 0 && way < w && partWay(k) && moves[k][6] === m[6]; k--) {
    trace(c, k, 1);
    way += Math.hypot(moves[k][0] - before(k)[0], moves[k][1] - before(k)[1]) + 0.01;
  }
  c.stroke();
  return at;
};
const sheet = (c) => {
  c.setTransform(1, 0, 0, 1, 0, 0);
  c.clearRect(0, 0, done.width, done.height);
  view(c);
  c.fillStyle = style('--sheet');
  c.fillRect(board[0], board[1], board[2] - board[0], board[3] - board[1]);
  drawn = 0;
};
const over = (c) => {
  view(c);
  c.lineWidth = 1.2 / scale;
  c.strokeStyle = style('--ink');
  for (const { path } of outlines) c.stroke(new Path2D(path));
  c.font = Math.max(12, 22 * scale) / scale + 'px system-ui, sans-serif';
  c.textAlign = 'center';
  c.textBaseline = 'middle';
  c.fillStyle = style('--ink');
  for (const { name, at } of outlines) {
    if (!name) continue;
    c.save();
    c.translate(at[0], at[1]);
    c.scale(1, -1);
    c.fillText(name, 0, 0);
    c.restore();
  }
};
const indexAt = (t) => {
  let low = 0;
  let high = moves.length;
  while (low < high) {
    const mid = (low + high) >> 1;
    if (moves[mid][4] <= t) low = mid + 1;
    else high = mid;
  }
  return low;
};
let shown = -1;
const show = () => {
  const i = indexAt(now);
  const k = done.getContext('2d');
  if (i < drawn) sheet(k);
  view(k);
  for (; drawn < i; drawn++) stroke(k, drawn, 1);
  const c = canvas.getContext('2d');
  c.setTransform(1, 0, 0, 1, 0, 0);
  c.clearRect(0, 0, canvas.width, canvas.height);
  c.drawImage(done, 0, 0);
  view(c);
  let at = before(Math.min(i, moves.length));
  const m = moves[Math.min(i, moves.length - 1)];
  if (i < moves.length) {
    const from = i === 0 ? 0 : moves[i - 1][4];
    at = stroke(c, i, m[4] > from ? (now - from) / (m[4] - from) : 1);
  }
  over(c);
  const r = Math.max(m ? m[6] : 3, 2 / scale);
  c.beginPath();
  c.arc(at[0], at[1], r, 0, 7);
  c.moveTo(at[0] - 2 * r, at[1]);
  c.lineTo(at[0] + 2 * r, at[1]);
  c.moveTo(at[0], at[1] - 2 * r);
  c.lineTo(at[0], at[1] + 2 * r);
  c.lineWidth = 2 / scale;
  c.strokeStyle = style('--accent');
  c.stroke();
  slider.value = String(Math.round(now));
  const said = (v) => v.toFixed(2);
  const depth = top - at[2];
  const what = i >= moves.length ? 'done' : m[5] === 0 ? 'travels' : depth <= 0 ? 'moves above the sheet' : at[2] <= bottom + 0.05 ? 'cuts through' : 'cuts ' + said(depth) + ' mm deep';
  const clock = (s) => Math.floor(s / 60) + ' min ' + String(Math.floor(s % 60)).padStart(2, '0') + ' s';
  state.textContent = clock(now / 100) + ' of ' + clock(end / 100) + ' · line ' + (m ? m[3] : 0) + ' · X ' + said(at[0]) + '  Y ' + said(at[1]) + '  Z ' + said(at[2]) + ' · ' + what;
  slider.setAttribute('aria-valuetext', state.textContent);
  const line = m ? m[3] : 1;
  if (line !== shown) {
    shown = line;
    list.replaceChildren(
      ...Array.from({ length: 11 }, (_, d) => line - 6 + d)
        .filter((n) => n >= 0 && n < lines.length)
        .map((n) => {
          const b = document.createElement('button');
          b.type = 'button';
          b.textContent = String(n + 1).padStart(6) + '  ' + lines[n];
          if (n + 1 === line) b.setAttribute('aria-current', 'true');
          b.addEventListener('click', () => {
            const to = moves.findIndex((x) => x[3] >= n + 1);
            if (to >= 0) go(moves[to][4] - 0.5);
          });
          const li = document.createElement('li');
          li.append(b);
          return li;
        }),
    );
  }
};
const go = (t) => {
  now = Math.min(end, Math.max(0, t));
  show();
};
let last = 0;
let running = false;
const frame = (at) => {
  if (!running) return;
  const passed = Math.min(100, at - last);
  last = at;
  go(now + (passed / 10) * Number(pace.value));
  if (now >= end) halt();
  else requestAnimationFrame(frame);
};
const halt = () => {
  running = false;
  play.textContent = 'Run';
};
play.addEventListener('click', () => {
  if (running) return halt();
  if (now >= end) now = 0;
  running = true;
  play.textContent = 'Hold';
  last = performance.now();
  requestAnimationFrame(frame);
});
document.getElementById('back').addEventListener('click', () => {
  const i = indexAt(now);
  go(i <= 1 ? 0 : moves[i - 2][4]);
});
document.getElementById('on').addEventListener('click', () => {
  const i = indexAt(now);
  if (i < moves.length) go(moves[i][4]);
});
slider.addEventListener('input', () => go(Number(slider.value)));
const fit = () => {
  // A sheet that stands upright leaves room for what moves it.
  const css = Math.max(280, Math.min(canvas.parentElement.clientWidth, (window.innerHeight * 0.62 * width) / height));
  const dots = Math.min(2, window.devicePixelRatio || 1);
  scale = (css * dots) / width;
  for (const c of [canvas, done]) {
    c.width = Math.round(width * scale);
    c.height = Math.round(height * scale);
  }
  canvas.style.width = css + 'px';
  canvas.style.height = (css * height) / width + 'px';
  sheet(done.getContext('2d'));
  show();
};
window.addEventListener('resize', fit);
matchMedia('(prefers-color-scheme: dark)').addEventListener('change', fit);
const asked = Number(new URLSearchParams(location.search).get('at') ?? location.hash.slice(1));
if (asked > 0) now = Math.min(end, asked * 100);
fit();
})();
`;
