import { readdirSync, readFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import type { Page } from 'playwright-core';
import { launchBrowser } from '../test/browser.js';
import { serveBuiltPage } from '../test/serve.js';

/** Bounds that the page is held to. */
const BOUNDS = { firstLoadKb: 350, sideboardSeconds: 8, longTaskMs: 50 };

interface Task {
  readonly at: number;
  readonly ms: number;
  readonly doing: string;
}

/** Notes every stretch over 50 ms in which the page could answer nobody, with what was being done. */
const watch = (page: Page) =>
  page.addInitScript(() => {
    const scope = globalThis as unknown as { tasks: Task[]; doing: string };
    interface Task {
      at: number;
      ms: number;
      doing: string;
    }
    scope.tasks = [];
    scope.doing = 'load';
    new PerformanceObserver((list) => {
      for (const e of list.getEntries())
        scope.tasks.push({ at: Math.round(e.startTime), ms: Math.round(e.duration), doing: scope.doing });
    }).observe({ type: 'longtask', buffered: true });
  });

const doing = (page: Page, what: string) =>
  page.evaluate((w) => Object.assign(globalThis, { doing: w }), what);
const tasksOf = (page: Page) => page.evaluate(() => (globalThis as unknown as { tasks: Task[] }).tasks);

/** Seconds of processor time that the browser's processes have taken so far (Linux alone; else not a number). */
function cpuSeconds(): number {
  try {
    const parents = new Map<number, { parent: number; ticks: number }>();
    for (const pid of readdirSync('/proc').filter((n) => /^\d+$/.test(n))) {
      try {
        const stat = readFileSync(`/proc/${pid}/stat`, 'utf8')
          .replace(/^.*\) /, '')
          .split(' ');
        parents.set(Number(pid), { parent: Number(stat[1]), ticks: Number(stat[11]) + Number(stat[12]) });
      } catch {
        // It ended while it was looked at.
      }
    }
    const ours = (pid: number): boolean =>
      pid === process.pid || (parents.has(pid) && ours(parents.get(pid)!.parent));
    let ticks = 0;
    for (const [pid, p] of parents) if (pid !== process.pid && ours(pid)) ticks += p.ticks;
    return ticks / 100;
  } catch {
    return Number.NaN;
  }
}

const line = (text: string): void => void process.stdout.write(`${text}\n`);

const served = await serveBuiltPage();
const browser = await launchBrowser();
line(`${cpus().length} cores, load ${loadavg()[0]!.toFixed(1)} (times mean something near 0 alone)`);
for (const example of ['Sideboard', 'Pigeonholes']) {
  const context = await browser.newContext({
    serviceWorkers: 'block',
    viewport: { width: 1100, height: 900 },
  });
  const page = await context.newPage();
  await watch(page);
  const before = new Set(served.sizes.keys());
  await page.goto(served.url);
  const start = Date.now();
  const cpu = cpuSeconds();
  await doing(page, 'open');
  await page.getByRole('button', { name: new RegExp(`^${example}`) }).click();
  await page.getByRole('heading', { name: 'Parts', exact: true }).waitFor({ timeout: 120_000 });
  const seen = Date.now() - start;
  if (before.size === 0) {
    const kb = [...served.sizes.values()].reduce((sum, n) => sum + n, 0) / 1000;
    line(`first load until parts are seen: ${kb.toFixed(0)} kB compressed (bound ${BOUNDS.firstLoadKb})`);
  }
  await doing(page, 'make');
  const began = Date.now();
  await page.getByRole('button', { name: 'Make it all' }).click();
  await page.locator('.bench .word-of', { hasText: /proved/ }).waitFor({ timeout: 300_000 });
  const made = Date.now() - began;
  const used = cpuSeconds() - cpu;
  const bound = example === 'Sideboard' ? ` (bound ${BOUNDS.sideboardSeconds} s from drop to proof)` : '';
  line(
    `${example}: parts seen after ${(seen / 1000).toFixed(1)} s, made and proved after ${((seen + made) / 1000).toFixed(1)} s${bound}; ${used.toFixed(1)} s of processor time`,
  );
  for (const screen of ['boards', 'fit', 'layout', 'program', 'proof', 'assembly', 'drawing']) {
    await doing(page, screen);
    await page.evaluate((s) => {
      location.hash = s;
    }, screen);
    await page.waitForTimeout(1500);
  }
  const tasks = await tasksOf(page);
  const worst = [...tasks].sort((a, b) => b.ms - a.ms).slice(0, 8);
  line(
    `${example}: ${tasks.length} tasks over ${BOUNDS.longTaskMs} ms${worst.length > 0 ? `, the longest: ${worst.map((t) => `${t.ms} ms (${t.doing})`).join(', ')}` : ''}`,
  );
  await context.close();
}
await browser.close();
served.close();
