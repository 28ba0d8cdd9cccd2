import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { launchBrowser } from '../test/browser.js';
import { serveBuiltPage } from '../test/serve.js';

/** Bounds that the page is held to. */
const BOUNDS = { firstLoadKb: 350, sideboardSeconds: 8, longTaskMs: 50 };

interface Task {
  readonly ms: number;
  readonly doing: string;
}

/** Says in the trace, and to whoever reads it, what is done from now on. */
const doing = (page: Page, what: string) => page.evaluate((w) => performance.mark(`doing ${w}`), what);

interface TraceEvent {
  readonly name: string;
  readonly ph: string;
  readonly pid: number;
  readonly tid: number;
  readonly ts: number;
  readonly tdur?: number;
  readonly args?: { readonly name?: string };
}

/**
 * Tasks of the page's own thread that took longer than the bound, in processor time: what the thread ran, not how long others kept it
 * waiting, so that a busy machine gives the same figures.
 */
function longTasks(trace: Buffer): Task[] {
  const { traceEvents: events } = JSON.parse(trace.toString('utf8')) as { traceEvents: TraceEvent[] };
  const marks = events
    .filter((e) => e.name.startsWith('doing ') && (e.ph === 'R' || e.ph === 'I'))
    .sort((x, y) => x.ts - y.ts);
  const [{ pid } = { pid: -1 }] = marks;
  const main = new Set(
    events
      .filter((e) => e.pid === pid && e.name === 'thread_name' && e.args?.name === 'CrRendererMain')
      .map((e) => e.tid),
  );
  return events
    .filter((e) => e.pid === pid && main.has(e.tid) && e.ph === 'X' && /RunTask$/.test(e.name))
    .filter((e) => (e.tdur ?? 0) > BOUNDS.longTaskMs * 1000)
    .map((e) => ({
      ms: Math.round(e.tdur! / 1000),
      doing:
        marks
          .filter((m) => m.ts <= e.ts + (e.tdur ?? 0))
          .at(-1)
          ?.name.slice(6) ?? 'load',
    }));
}

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

/** A pigeonhole rack of 63 parts: the example's, with ten bays instead of seven, and its job with room for them. */
function sixtyParts(): { name: string; mimeType: string; buffer: Buffer }[] {
  const folder = new URL('../../../docs/examples/pigeonholes/', import.meta.url);
  const make = fileURLToPath(new URL('make-master.mjs', folder));
  const master = execFileSync(process.execPath, [make, '--print', '11', '2100'], { maxBuffer: 1e8 });
  const job = JSON.parse(readFileSync(new URL('job.json', folder), 'utf8'));
  job.boards[0].count = 4;
  return [
    { name: 'job.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(job)) },
    { name: 'pigeonholes.master.json', mimeType: 'application/json', buffer: master },
  ];
}

const line = (text: string): void => void process.stdout.write(`${text}\n`);

const served = await serveBuiltPage();
const browser = await launchBrowser();
line(`${cpus().length} cores, load ${loadavg()[0]!.toFixed(1)} (times mean something near 0 alone)`);
for (const example of ['Sideboard', 'Pigeonholes', 'Sixty parts']) {
  const context = await browser.newContext({
    serviceWorkers: 'block',
    viewport: { width: 1100, height: 900 },
  });
  const page = await context.newPage();
  await browser.startTracing(page, { categories: ['toplevel', 'blink.user_timing', '__metadata'] });
  const before = new Set(served.sizes.keys());
  await page.goto(served.url);
  const start = Date.now();
  const cpu = cpuSeconds();
  await doing(page, 'open');
  if (example === 'Sixty parts') await page.getByLabel('Choose a file').setInputFiles(sixtyParts());
  else await page.getByRole('button', { name: new RegExp(`^${example}`) }).click();
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
  const tasks = longTasks(await browser.stopTracing());
  const worst = [...tasks].sort((a, b) => b.ms - a.ms).slice(0, 8);
  line(
    `${example}: ${tasks.length} tasks over ${BOUNDS.longTaskMs} ms of processor time${worst.length > 0 ? `, the longest: ${worst.map((t) => `${t.ms} ms (${t.doing})`).join(', ')}` : ''}`,
  );
  await context.close();
}
await browser.close();
served.close();
