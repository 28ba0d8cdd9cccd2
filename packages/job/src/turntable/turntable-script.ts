/**
 * What the turntable's page does: draws plates with a depth for every dot, so that they may stand through each other, turns them under a
 * finger, a mouse or the arrow keys, and moves them along the steps. Plain script, no library, no WebGL.
 */
export const TURNTABLE_SCRIPT = `
(() => {
for (const root of document.querySelectorAll('.turntable')) {
const data = JSON.parse(root.querySelector('script').textContent);
const canvas = root.querySelector('canvas');
const said = root.querySelector('[role=status]');
const build = root.querySelector('[name=build]');
const apart = root.querySelector('[name=apart]');
const named = root.querySelector('[name=names]');
const c = canvas.getContext('2d');
const at = data.points.map((v) => v / 10);
let azimuth = 0.48, elevation = 0.37, moving = false, asked = false;
// The box of every part where it is at home.
const boxes = data.parts.map((p) => {
  const low = [Infinity, Infinity, Infinity], high = [-Infinity, -Infinity, -Infinity];
  for (const f of p.faces) for (const l of f.loops) for (const v of l) for (let k = 0; k < 3; k++) {
    low[k] = Math.min(low[k], at[3 * v + k]);
    high[k] = Math.max(high[k], at[3 * v + k]);
  }
  return [low, high];
});
// Middle and size of the whole, each part moved by its share: what is hidden counts too, so that nothing jumps.
const extent = (share) => {
  const low = [Infinity, Infinity, Infinity], high = [-Infinity, -Infinity, -Infinity];
  data.parts.forEach((p, i) => p.apart.forEach((v, k) => {
    low[k] = Math.min(low[k], boxes[i][0][k] + v * share);
    high[k] = Math.max(high[k], boxes[i][1][k] + v * share);
  }));
  return { middle: low.map((v, k) => (v + high[k]) / 2), reach: Math.hypot(...low.map((v, k) => high[k] - v)) / 2 || 1 };
};
const style = (name) => getComputedStyle(root).getPropertyValue(name).trim();
const rgb = (hex) => [1, 3, 5].map((i) => parseInt(hex.slice(i, i + 2), 16));
const shades = (light, dark) => (k) => { const m = dark.map((d, i) => Math.round(d + (light[i] - d) * k)); return (255 << 24) | (m[2] << 16) | (m[1] << 8) | m[0]; };
// Where every part is: at home, drawn off along its step, taken apart; null where its step has not come.
const offsets = () => {
  const steps = data.steps, done = Number(build.value), share = Number(apart.value) / 100;
  const state = data.parts.map((p) => p.apart.map((v) => v * share));
  if (steps.length === 0 || done >= steps.length) return { state, now: -1 };
  const now = Math.floor(done), part = done - now, s = steps[now];
  const later = new Set();
  for (let k = now + 1; k < steps.length; k++) for (const i of [...steps[k].moving, ...steps[k].standing]) later.add(i);
  const seen = new Set();
  for (let k = 0; k <= now; k++) for (const i of [...steps[k].moving, ...steps[k].standing]) seen.add(i);
  for (const i of state.keys()) if (!seen.has(i) && later.has(i)) state[i] = null;
  const off = Math.max(s.travel, 60) * (1 - part);
  for (const i of s.moving) if (state[i]) state[i] = state[i].map((v, k) => v - s.way[k] * off);
  return { state, now };
};
const draw = () => {
  asked = false;
  const wide = canvas.clientWidth || 600, tall = Math.round(Math.min(wide * 0.72, 640));
  const fine = (window.devicePixelRatio || 1) * (moving ? 1 : Math.max(1, 2 / (window.devicePixelRatio || 1)));
  const W = Math.max(1, Math.round(wide * fine)), H = Math.max(1, Math.round(tall * fine));
  if (canvas.width !== W || canvas.height !== H) { canvas.width = W; canvas.height = H; canvas.style.height = tall + 'px'; }
  const sa = Math.sin(azimuth), ca = Math.cos(azimuth), se = Math.sin(elevation), ce = Math.cos(elevation);
  const eye = [sa * ce, -ca * ce, se], right = [ca, sa, 0], up = [-sa * se, ca * se, ce];
  const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  const { state, now } = offsets();
  const { middle, reach } = extent(Number(apart.value) / 100);
  const scale = Math.min(W, H * 1.12) / (2.05 * reach);
  const depth = new Float32Array(W * H).fill(-1e9);
  const picture = c.createImageData(W, H);
  const dots = new Uint32Array(picture.data.buffer);
  const wood = shades(rgb(style('--light')), rgb(style('--shade')));
  const moved = shades(rgb(style('--moved')), rgb(style('--moved-shade')));
  const ink = shades(rgb(style('--arris')), rgb(style('--arris')))(1);
  const light = [0.25, -0.45, 0.86];
  const step = now < 0 ? null : new Set(data.steps[now].moving);
  const labels = [];
  data.parts.forEach((part, i) => {
    const o = state[i];
    if (!o) return;
    const m = [0, 1, 2].map((k) => o[k] - middle[k]);
    const place = (p) => {
      const x = [at[3 * p] + m[0], at[3 * p + 1] + m[1], at[3 * p + 2] + m[2]];
      return [W / 2 + scale * dot(right, x), H / 2 - scale * dot(up, x), dot(eye, x)];
    };
    const tone = step && step.has(i) ? moved : wood;
    let best = 0, label = null;
    for (const f of part.faces) {
      const ne = dot(f.n, eye);
      if (ne <= 1e-4) continue;
      const loops = f.loops.map((l) => l.map(place));
      const first = loops[0][0];
      // Depth of the side as a function of the dot: along a row it grows by the same amount.
      const perX = -dot(f.n, right) / ne / scale, perY = dot(f.n, up) / ne / scale;
      const colour = tone(Math.max(0, Math.min(1, 0.42 + 0.58 * dot(f.n, light))));
      let y0 = Infinity, y1 = -Infinity, area = 0, cx = 0, cy = 0, n = 0;
      for (const l of loops) l.forEach((p, k) => {
        const q = l[(k + 1) % l.length];
        area += p[0] * q[1] - q[0] * p[1];
        y0 = Math.min(y0, p[1]); y1 = Math.max(y1, p[1]);
      });
      for (const p of loops[0]) { cx += p[0]; cy += p[1]; n++; }
      if (Math.abs(area) > best) { best = Math.abs(area); label = [cx / n, cy / n, first[2] + perX * (cx / n - first[0]) + perY * (cy / n - first[1])]; }
      for (let y = Math.max(0, Math.ceil(y0 - 0.5)); y <= Math.min(H - 1, Math.floor(y1 - 0.5)); y++) {
        const row = y + 0.5, xs = [];
        for (const l of loops) for (let k = 0; k < l.length; k++) {
          const p = l[k], q = l[(k + 1) % l.length];
          if (p[1] > row !== q[1] > row) xs.push(p[0] + ((row - p[1]) / (q[1] - p[1])) * (q[0] - p[0]));
        }
        xs.sort((a, b) => a - b);
        for (let k = 0; k + 1 < xs.length; k += 2) {
          const from = Math.max(0, Math.ceil(xs[k] - 0.5)), to = Math.min(W - 1, Math.floor(xs[k + 1] - 0.5));
          let d = first[2] + perX * (from + 0.5 - first[0]) + perY * (row - first[1]);
          for (let x = from, j = y * W + from; x <= to; x++, j++, d += perX) if (d > depth[j]) { depth[j] = d; dots[j] = colour; }
        }
      }
    }
    if (label) labels.push([part.id, label]);
  });
  // Arrises are drawn over the sides, wherever nothing is nearer.
  const thick = Math.max(1, Math.round(fine));
  data.parts.forEach((part, i) => {
    const o = state[i];
    if (!o) return;
    const m = [0, 1, 2].map((k) => o[k] - middle[k]);
    for (const l of part.lines) {
      if (l.length > 2 && (dot(l.slice(2, 5), eye) > 0) === (dot(l.slice(5, 8), eye) > 0)) continue;
      const [p, q] = [l[0], l[1]].map((v) => {
        const x = [at[3 * v] + m[0], at[3 * v + 1] + m[1], at[3 * v + 2] + m[2]];
        return [W / 2 + scale * dot(right, x), H / 2 - scale * dot(up, x), dot(eye, x) + 1.2];
      });
      const n = Math.max(1, Math.ceil(Math.max(Math.abs(q[0] - p[0]), Math.abs(q[1] - p[1]))));
      for (let k = 0; k <= n; k++) {
        const t = k / n, d = p[2] + (q[2] - p[2]) * t;
        const x = Math.floor(p[0] + (q[0] - p[0]) * t), y = Math.floor(p[1] + (q[1] - p[1]) * t);
        for (let a = 0; a < thick; a++) for (let b = 0; b < thick; b++) {
          const u = x + a, v = y + b;
          if (u >= 0 && v >= 0 && u < W && v < H && d > depth[v * W + u]) dots[v * W + u] = ink;
        }
      }
    }
  });
  c.putImageData(picture, 0, 0);
  if (named.checked) {
    c.font = '600 ' + Math.round(14 * fine) + 'px system-ui, sans-serif';
    c.textAlign = 'center';
    c.textBaseline = 'middle';
    c.lineJoin = 'round';
    for (const [id, [x, y, d]] of labels) {
      const u = Math.round(x), v = Math.round(y);
      if (u < 0 || v < 0 || u >= W || v >= H || d < depth[v * W + u] - 2) continue;
      c.strokeStyle = style('--halo');
      c.lineWidth = 4 * fine;
      c.strokeText(id, u, v);
      c.fillStyle = style('--ink');
      c.fillText(id, u, v);
    }
  }
  const steps = data.steps.length;
  const words = steps === 0 ? '' : now < 0 ? 'Together. ' : 'Step ' + (now + 1) + ' of ' + steps + ': ' + data.steps[now].text;
  if (said.textContent !== words) said.textContent = words;
};
const ask = () => { if (!asked) { asked = true; requestAnimationFrame(draw); } };
const turn = (a, e) => { azimuth += a; elevation = Math.max(-1.5, Math.min(1.5, elevation + e)); ask(); };
let last = null;
canvas.addEventListener('pointerdown', (e) => { last = [e.clientX, e.clientY]; moving = true; canvas.setPointerCapture(e.pointerId); });
canvas.addEventListener('pointermove', (e) => { if (!last) return; turn(-(e.clientX - last[0]) / 160, (e.clientY - last[1]) / 200); last = [e.clientX, e.clientY]; });
const rest = () => { last = null; moving = false; ask(); };
canvas.addEventListener('pointerup', rest);
canvas.addEventListener('pointercancel', rest);
const keys = { ArrowLeft: [0.12, 0], ArrowRight: [-0.12, 0], ArrowUp: [0, 0.1], ArrowDown: [0, -0.1] };
canvas.addEventListener('keydown', (e) => { const k = keys[e.key]; if (k) { e.preventDefault(); turn(...k); } });
for (const b of root.querySelectorAll('button[data-turn]')) b.addEventListener('click', () => turn(...b.dataset.turn.split(' ').map(Number)));
for (const i of [build, apart, named]) i.addEventListener('input', ask);
new ResizeObserver(ask).observe(root);
matchMedia('(prefers-color-scheme: dark)').addEventListener('change', ask);
ask();
}
})();
`;
