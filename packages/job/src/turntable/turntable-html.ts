import { escapeHtml } from '../escape-html.js';
import type { TurntableData } from './turntable-data.js';

/** Styles of turntables, once a page: on a warm ground, moving parts in another tone, told by the step's words too. */
export const TURNTABLE_STYLE = `
.turntable{--light:#f4e6cb;--shade:#9c7f58;--moved:#e3ecf3;--moved-shade:#6d8499;--arris:#4a3f33;--halo:#fffdf8;border:1px solid var(--line);border-radius:.4rem;padding:.6rem;margin:.6rem 0;max-width:62rem}
@media (prefers-color-scheme:dark){.turntable{--light:#cdb890;--shade:#57462f;--moved:#a9bfd3;--moved-shade:#40546a;--arris:#14110d;--halo:#1d1b17}}
.turntable canvas{display:block;width:100%;touch-action:pan-y;cursor:grab}.turntable canvas:focus-visible,.turntable :focus-visible{outline:3px solid var(--accent);outline-offset:2px}
.turntable .row{display:flex;flex-wrap:wrap;gap:.5rem 1rem;align-items:center;margin:.4rem 0}.turntable button{font:inherit;color:inherit;background:transparent;border:1px solid var(--line);border-radius:6px;min-height:44px;padding:.2rem .9rem}
.turntable label{display:flex;gap:.5rem;align-items:center;min-height:44px}.turntable input[type=range]{flex:1 1 14rem;min-height:44px;accent-color:var(--accent)}.turntable [role=status]{min-height:1.5em;margin:.2rem 0}
@media print{.turntable{display:none}}
`;

/** A piece to be turned, taken apart and put together step by step: a fragment of a page that holds its own data. */
export function turntableHtml(data: TurntableData): string {
  const json = JSON.stringify(data).replaceAll('<', '\\u003c');
  const name = escapeHtml(data.title);
  const steps = data.steps.length;
  return `<div class="turntable"><script type="application/json">${json}</script>
<canvas tabindex="0" role="img" aria-label="${name}, from all sides: turn it by dragging or with the arrow keys"></canvas>
<p role="status"></p>
<div class="row">${steps === 0 ? '<input type="hidden" name="build" value="0">' : `<label style="flex:1 1 20rem">Put together <input type="range" name="build" min="0" max="${steps}" step="0.02" value="${steps}"></label>`}<label style="flex:1 1 20rem">Take apart <input type="range" name="apart" min="0" max="100" value="0"></label></div>
<div class="row"><button type="button" data-turn="0.3 0">Turn left</button><button type="button" data-turn="-0.3 0">Turn right</button><button type="button" data-turn="0 0.25">From higher</button><button type="button" data-turn="0 -0.25">From lower</button><label><input type="checkbox" name="names" checked> names</label></div>
</div>`;
}
