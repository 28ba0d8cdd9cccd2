import { execFile } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { promisify } from 'node:util';
import { findMasterFile } from '@haunch/job';
import type { Browser, BrowserContext, BrowserContextOptions, Download, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readZip, writeZip } from '../src/work/zip.js';
import { launchBrowser, tabTo } from './browser.js';
import { type Served, serveBuiltPage } from './serve.js';

const HAUNCH = fileURLToPath(new URL('../../cli/bin/haunch.mjs', import.meta.url));
const AXE = createRequire(import.meta.url).resolve('axe-core/axe.min.js');
const SCREENS = ['drawing', 'boards', 'fit', 'layout', 'program', 'proof', 'assembly'] as const;
/** What may be loaded before a drawing stands on the page, without 3D. */
const FIRST_LOAD = 350_000;

let browser: Browser;
let served: Served;
let folder: string;
/** The rack with its master found, three readings and no ladder, as an archive of a job and its file. */
let rack: string;
/** The same with one part laid on a second sheet. */
let onTwoSheets: string;

beforeAll(async () => {
  served = await serveBuiltPage();
  browser = await launchBrowser();
  folder = mkdtempSync(join(tmpdir(), 'haunch-page-'));
  rack = join(folder, 'rack.zip');
  writeFileSync(rack, await rackJob());
  onTwoSheets = join(folder, 'rack-on-two.zip');
  writeFileSync(onTwoSheets, await rackJob((job, parts) => onSecondSheet(job, parts[0]!.id)));
});

afterAll(async () => {
  await browser?.close();
  served?.close();
  if (folder) rmSync(folder, { recursive: true, force: true });
});

interface RackJob {
  readonly boards: readonly object[];
}

const onSecondSheet = (job: RackJob, part: string) => ({
  ...job,
  boards: [...job.boards, { ...job.boards[0], id: 'sheet-2' }],
  lay: { placements: { [part]: { board: 'sheet-2', at: ['20 mm', '20 mm'] } } },
});

async function rackJob(
  change: (job: RackJob, parts: readonly { readonly id: string }[]) => RackJob = (job) => job,
): Promise<Uint8Array> {
  const drawing = new URL('../../../docs/examples/rack/rack.dxf', import.meta.url);
  const found = findMasterFile({
    content: readFileSync(drawing),
    file: 'rack.dxf',
    answers: { 'piece-0': 1 },
    follows: {},
    read: { thickness: 12 },
  });
  if (!found.ok || found.value.text === null) throw new Error('the rack is not found');
  const { text } = found.value;
  const example = JSON.parse(readFileSync(new URL('job.json', drawing), 'utf8'));
  const cutters = [
    { ...example.cutters[0], id: 'router-6', diameter: '5.98 mm', chipLoad: '0.12 mm', depthPerPass: '6 mm' },
  ];
  const job = JSON.stringify(change({ ...example, cutters }, JSON.parse(text).parts), null, 2);
  const packed = writeZip([
    { path: 'rack/job.json', bytes: Uint8Array.from(Buffer.from(job)) },
    { path: 'rack/rack.master.json', bytes: Uint8Array.from(Buffer.from(text)) },
  ]);
  return new Uint8Array(await packed.arrayBuffer());
}

interface Opened {
  readonly page: Page;
  readonly context: BrowserContext;
  /** Whatever the page complained of. */
  readonly faults: string[];
}

async function openPage(
  prepare?: (context: BrowserContext) => Promise<unknown>,
  options: BrowserContextOptions = {},
): Promise<Opened> {
  const context = await browser.newContext({ viewport: { width: 1100, height: 900 }, ...options });
  await prepare?.(context);
  const page = await context.newPage();
  const faults: string[] = [];
  page.on('pageerror', (e) => faults.push(e.message));
  page.on('console', (m) => {
    if (m.type() === 'error') faults.push(m.text());
  });
  await page.goto(served.url);
  return { page, context, faults };
}

const go = (page: Page, screen: string) =>
  page.getByRole('link', { name: new RegExp(`^\\d ${screen}`) }).click();

/** Waits until the job is made and proved; what stands in the way is said. */
async function proved(page: Page): Promise<void> {
  const done = page.locator('.bench .word-of', { hasText: /proved/ });
  const wrong = page.locator('.notice.error');
  await done.or(wrong).first().waitFor({ timeout: 60_000 });
  expect(await wrong.allInnerTexts()).toEqual([]);
  expect(await done.textContent()).toBe('✓ proved');
}

async function files(download: Download): Promise<ReadonlyMap<string, Uint8Array>> {
  return readZip(new Uint8Array(readFileSync(await download.path())));
}

async function downloaded(page: Page, button: string): Promise<Download> {
  const waiting = page.waitForEvent('download');
  await page.getByRole('button', { name: button, exact: true }).click();
  return waiting;
}

/** Every file below a folder, by path from it. */
function filesBelow(root: string, at = ''): Map<string, Buffer> {
  const out = new Map<string, Buffer>();
  for (const name of readdirSync(join(root, at))) {
    const path = at === '' ? name : `${at}/${name}`;
    if (statSync(join(root, path)).isDirectory()) for (const [p, c] of filesBelow(root, path)) out.set(p, c);
    else out.set(path, readFileSync(join(root, path)));
  }
  return out;
}

const openRack = async (page: Page, label = 'Choose a file') => {
  await page.getByLabel(label).setInputFiles(rack);
  await page.getByText('1 measured').waitFor({ timeout: 30_000 });
};

/**
 * Looks at what was made: moves a part there and back by keys, so that the job file says where all lie; drags one over another, which the
 * referee refuses at once; follows a joint to the line that cut it, and a step of putting together.
 */
async function lookAtResult(page: Page): Promise<void> {
  await go(page, 'Layout');
  await page.getByText('✓ All parts may lie so.').first().waitFor({ timeout: 30_000 });
  await page.locator('.laid').first().focus();
  await page.keyboard.press('Shift+ArrowRight');
  await page.keyboard.press('Shift+ArrowLeft');
  await page.getByText(/parts stay where the job file has them/).waitFor();
  const [from, to] = [
    (await page.locator('.laid').nth(0).boundingBox())!,
    (await page.locator('.laid').nth(1).boundingBox())!,
  ];
  await page.mouse.move(from.x + from.width / 2, from.y + from.height / 2);
  await page.mouse.down();
  await page.mouse.move(to.x + to.width / 2, to.y + to.height / 2, { steps: 3 });
  await page.getByText('✕ So they may not lie').waitFor();
  await page.mouse.up();
  await page.getByRole('button', { name: 'Undo' }).click();
  await page.getByText('✓ All parts may lie so.').first().waitFor();
  await page.getByRole('button', { name: 'Make it all' }).click();
  await proved(page);

  await go(page, 'Proof');
  await page.locator('.joint-head').first().click();
  const lines = page.getByRole('link', { name: /^lines? \d/ }).first();
  const [line] = /\d+/.exec((await lines.textContent())!)!;
  await lines.click();
  const chosen = page.locator('.program-line[aria-selected="true"] .number');
  await chosen.waitFor({ timeout: 30_000 });
  expect(await chosen.textContent()).toBe(line);
  await page.getByText(`line ${line} ·`).waitFor();

  await go(page, 'Assembly');
  await page.getByRole('button', { name: 'One step on' }).click();
  await page.getByRole('heading', { name: /^Step 1 of/ }).waitFor();
}

/** Drags the only part of the second sheet over the first one, into its upper right corner where nothing lies: there it may stay. */
async function dropOnOtherSheet(page: Page): Promise<void> {
  await go(page, 'Layout');
  await page.setViewportSize({ width: 700, height: 2400 });
  const [first, second] = ['sheet-1', 'sheet-2'].map((id) => page.locator(`.laid-sheet[data-board="${id}"]`));
  await page.getByText('✓ All parts may lie so.').first().waitFor({ timeout: 30_000 });
  await expect(second!.locator('.laid').count()).resolves.toBe(1);
  const before = await first!.locator('.laid').count();
  await first!.scrollIntoViewIfNeeded();
  const part = (await second!.locator('.laid .plate').boundingBox())!;
  const sheet = (await first!.locator('.board').boundingBox())!;
  await page.mouse.move(part.x + part.width / 2, part.y + part.height / 2);
  await page.mouse.down();
  await page.mouse.move(sheet.x + sheet.width / 2, sheet.y + sheet.height / 2, { steps: 3 });
  const corner = { x: sheet.x + sheet.width - part.width / 2 - 15, y: sheet.y + part.height / 2 + 15 };
  await page.mouse.move(corner.x, corner.y, { steps: 3 });
  await page.mouse.up();
  await expect.poll(() => first!.locator('.laid').count()).toBe(before + 1);
  await page.getByText('✓ All parts may lie so.').first().waitFor();
  await page.getByText('✕ So they may not lie').first().waitFor({ state: 'detached' });
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect.poll(() => second!.locator('.laid').count()).toBe(1);
  await page.setViewportSize({ width: 1100, height: 900 });
}

/** Opens a report without a network: its piece turns, comes apart and goes together, and a program's replay is unpacked in it. */
async function turnReport(file: string): Promise<void> {
  const context = await browser.newContext({ offline: true, viewport: { width: 900, height: 900 } });
  const page = await context.newPage();
  const faults: string[] = [];
  page.on('pageerror', (e) => faults.push(e.message));
  page.on('request', (r) => {
    if (!/^(?:file|data|blob|about):/.test(r.url())) faults.push(r.url());
  });
  await page.goto(pathToFileURL(file).href);
  const piece = page.locator('.turntable').first();
  const seen = new Set<string>();
  const look = async () => {
    // Two frames: one that draws what was asked for, one that is sure to come after it.
    await page.evaluate(() => new Promise((r) => requestAnimationFrame(() => requestAnimationFrame(r))));
    seen.add(await piece.locator('canvas').evaluate((c: HTMLCanvasElement) => c.toDataURL()));
  };
  await look();
  await piece.getByRole('button', { name: 'Turn left' }).click();
  await look();
  await piece.locator('canvas').press('ArrowUp');
  await look();
  await piece.getByLabel('Take apart').fill('100');
  await look();
  await piece.getByLabel('Put together').fill('0');
  await look();
  expect(seen.size, 'every touch shows the piece another way').toBe(5);
  expect(await piece.getByRole('status').textContent()).toMatch(/1/);
  await page
    .getByText(/^Watch .* cut$/)
    .first()
    .click();
  const replay = page.frameLocator('details.replay iframe').first();
  await replay.locator('input[type="range"]').first().waitFor();
  expect(faults).toEqual([]);
  await context.close();
}

describe('a job in the page', () => {
  it('goes from a bare drawing to proved programs by mouse, and makes what the command line makes of it, to the byte', async () => {
    // What is kept for later, when there is no network, is fetched when the page has long been at work: it is left aside here.
    const { page, context, faults } = await openPage(undefined, { serviceWorkers: 'block' });
    await page.getByRole('button', { name: /^Rack/ }).click();
    await page.getByRole('button', { name: '12.0 mm', exact: true }).click();
    await page.getByRole('button', { name: /^L / }).waitFor({ timeout: 30_000 });
    const first = [...served.sizes.values()].reduce((sum, n) => sum + n, 0);
    expect(first, [...served.sizes].join('\n')).toBeLessThanOrEqual(FIRST_LOAD);
    await page.getByRole('button', { name: 'Find what goes into what' }).click();
    await page.getByRole('button', { name: /^1\. / }).first().click({ timeout: 30_000 });
    await page.getByText('rack.master.json').first().waitFor({ timeout: 30_000 });

    await go(page, 'Boards');
    await page.getByText(/^Size, grain and turning over of board-a/).click();
    for (const [label, value] of [
      ['Width', '1220'],
      ['Height', '800'],
    ] as const) {
      await page.getByLabel(label).fill(value);
      await page.getByLabel(label).press('Enter');
    }
    const sheet = page.locator('svg.sheet');
    // A sheet that is drawn narrower than its box: a touch at its left edge is there, not somewhere to the right of it.
    await page.setViewportSize({ width: 1100, height: 420 });
    const [edge, round] = [(await sheet.locator('.edge').boundingBox())!, (await sheet.boundingBox())!];
    expect(edge.width).toBeLessThan(0.9 * round.width);
    await sheet.click({
      position: { x: edge.x - round.x + edge.width * 0.25, y: edge.y - round.y + edge.height * 0.5 },
    });
    expect(await page.getByLabel('X, mm').inputValue()).toMatch(/^30\d$/);
    await page.setViewportSize({ width: 1100, height: 900 });
    for (const [x, y, t] of [
      [0.1, 0.2, '11.58'],
      [0.9, 0.2, '11,62'],
      [0.5, 0.8, '11.6 mm'],
    ] as const) {
      await sheet.scrollIntoViewIfNeeded();
      const box = (await sheet.boundingBox())!;
      await sheet.click({ position: { x: box.width * x, y: box.height * y } });
      await page.getByLabel('Thickness, mm').fill(t);
      await page.getByRole('button', { name: 'Note it' }).click();
    }
    await page.getByText('At loading: go between').waitFor();
    await page.getByRole('radio', { name: /marks a keep-out/ }).click();
    await sheet.scrollIntoViewIfNeeded();
    const box = (await sheet.boundingBox())!;
    await page.mouse.move(box.x + box.width * 0.9, box.y + box.height * 0.1);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width * 0.96, box.y + box.height * 0.16, { steps: 3 });
    await page.mouse.up();
    await page.getByText(/^Keep-out from/).waitFor();
    await page.getByRole('radio', { name: /marks a screw/ }).click();
    await sheet.click({ position: { x: box.width * 0.04, y: box.height * 0.06 } });
    await page.getByLabel(/^Screw 1 at/).waitFor();
    await page.getByRole('radio', { name: /notes a reading/ }).click();
    // Neither the drag nor the screw has noted a place for a reading.
    expect(await page.getByLabel('X, mm').inputValue()).toBe('');

    await page.getByRole('button', { name: 'Make it all' }).click();
    await proved(page);
    await lookAtResult(page);
    const job = await files(await downloaded(page, 'Download the job'));
    const made = await files(await downloaded(page, 'Download all that was made'));
    expect(faults).toEqual([]);
    await context.close();

    const at = join(folder, 'rack');
    mkdirSync(at);
    for (const [name, content] of job) writeFileSync(join(at, name), content);
    expect([...job.keys()]).toContain('job.json');
    await promisify(execFile)(process.execPath, [
      HAUNCH,
      'make',
      join(at, 'job.json'),
      '--out',
      join(at, 'out'),
    ]);
    const theirs = filesBelow(join(at, 'out'));
    expect([...made.keys()].sort()).toEqual([...theirs.keys()].sort());
    expect([...made.keys()].some((p) => p.startsWith('programs/'))).toBe(true);
    for (const [path, content] of made)
      expect(Buffer.from(content).equals(theirs.get(path)!), `${path} differs`).toBe(true);
    await turnReport(join(at, 'out', 'report.html'));
  }, 180_000);

  it('is measured, fitted and made by keyboard alone', async () => {
    const { page, context, faults } = await openPage();
    // Listened for before the keys: the browser is told to hand the chooser over, and a key right after it can be quicker.
    const chooser = page.waitForEvent('filechooser');
    await tabTo(page, /Choose a file/);
    await page.keyboard.press('Enter');
    await (await chooser).setFiles(rack);
    await page.getByText('1 measured').waitFor({ timeout: 30_000 });
    await tabTo(page, /^2 Boards/);
    await page.keyboard.press('Enter');
    await tabTo(page, /^X, mm/);
    await page.keyboard.type('600');
    await page.keyboard.press('Tab');
    await page.keyboard.type('400');
    await page.keyboard.press('Tab');
    await page.keyboard.type('11.59');
    await page.keyboard.press('Enter');
    await page.getByLabel('at 600, 400').waitFor();
    await tabTo(page, /notes a reading/, 'radio');
    await page.keyboard.press('ArrowRight');
    for (const value of ['', '10', '10', '40', '40']) {
      if (value !== '') await page.keyboard.type(value);
      await tabTo(page, value === '' ? /from X/ : /from Y|to X|to Y|Mark the keep-out/);
    }
    await page.keyboard.press('Enter');
    await page.getByText('Keep-out from 10, 10 to 40, 40 mm').waitFor();
    await page.keyboard.press('Control+z');
    await page.getByText('Keep-out from 10, 10 to 40, 40 mm').waitFor({ state: 'detached' });
    await tabTo(page, /^3 Fit/);
    await page.keyboard.press('Enter');
    await tabTo(page, /snug: by hand/, 'radio');
    await page.keyboard.press('ArrowRight');
    await page.getByRole('radio', { name: /slip: loose/, checked: true }).waitFor();
    await tabTo(page, /Make it all/);
    await page.keyboard.press('Enter');
    await proved(page);
    expect(faults).toEqual([]);
    await context.close();
  });

  it('lasts over a reload, and without a network: undo and all, and is made offline', async () => {
    const { page, context, faults } = await openPage();
    await openRack(page);
    await go(page, 'Fit');
    await page.getByRole('radio', { name: /drive: with the mallet/ }).click();
    await page.getByText('Saved in this browser').waitFor();
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    await context.setOffline(true);
    await page.reload();
    await page
      .getByRole('radio', { name: /drive: with the mallet/, checked: true })
      .waitFor({ timeout: 30_000 });
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByRole('radio', { name: /snug: by hand/, checked: true }).waitFor();
    await page.getByRole('button', { name: 'Make it all' }).click();
    await proved(page);
    await page.reload();
    await proved(page);
    await page.getByText('Joints to sand, likely').waitFor();
    expect(faults).toEqual([]);
    await context.close();
  });

  it('is as it was after Stop, while its layout is being made, and so is the last result; a part may be dropped on another sheet', async () => {
    const { page, context, faults } = await openPage();
    await page.getByRole('button', { name: /^Pigeonholes/ }).click();
    await page.getByText('2 measured').waitFor({ timeout: 30_000 });
    await page.getByRole('button', { name: 'Make it all' }).click();
    await page.getByText(/laying out the parts/).waitFor({ timeout: 30_000 });
    await page.getByRole('button', { name: 'Stop', exact: true }).click();
    await page.getByRole('button', { name: 'Make it all' }).waitFor();
    await expect(page.locator('.notice').count()).resolves.toBe(0);
    await page.getByLabel('Open a job or drawing').setInputFiles(onTwoSheets);
    await expect.poll(() => page.getByLabel('Title of the job').inputValue()).toMatch(/^Rack/);
    await page.getByRole('button', { name: 'Make it all' }).click();
    await proved(page);
    await dropOnOtherSheet(page);
    await go(page, 'Fit');
    await page.getByRole('radio', { name: /slip: loose/ }).click();
    await page.getByText('of an earlier state').first().waitFor();
    await page.getByRole('button', { name: 'Make it all' }).click();
    await page.getByRole('button', { name: 'Stop', exact: true }).click();
    await page.getByRole('button', { name: 'Undo' }).click();
    await proved(page);
    expect(faults).toEqual([]);
    await context.close();
  });
});

describe('what goes wrong is a sentence, and nothing is lost', () => {
  it('files that cannot be opened', async () => {
    const { page, context, faults } = await openPage();
    await openRack(page);
    const title = await page.getByLabel('Title of the job').inputValue();
    const zip = readFileSync(rack);
    const large = join(folder, 'large.dxf');
    writeFileSync(large, Buffer.alloc(60_000_000, 'x'));
    const job = { format: 'haunch-job', version: 1, title: 't', pieces: [], boards: [], cutters: [] };
    const bad: readonly (readonly [string | { name: string; mimeType: string; buffer: Buffer }, RegExp])[] = [
      [{ name: 'words.dxf', mimeType: '', buffer: Buffer.from('not a drawing') }, /words\.dxf/],
      [
        { name: 'cut.json', mimeType: '', buffer: Buffer.from('{"format": "haunch-job",\n') },
        /cut\.json, line 2/,
      ],
      [{ name: 'empty.json', mimeType: '', buffer: Buffer.from(JSON.stringify(job)) }, /pieces/],
      [{ name: 'photo.png', mimeType: '', buffer: Buffer.from([137, 80]) }, /neither a drawing/],
      [{ name: 'cut.zip', mimeType: '', buffer: zip.subarray(0, zip.length - 40) }, /no archive/],
      [large, /large\.dxf/],
    ];
    for (const [file, says] of bad) {
      await page.getByLabel('Open a job or drawing').setInputFiles(file);
      await page.locator('.notice.error', { hasText: says }).waitFor({ timeout: 30_000 });
      await page.getByRole('button', { name: 'Put away', exact: true }).click();
    }
    expect(await page.getByLabel('Title of the job').inputValue()).toBe(title);
    expect(faults).toEqual([]);
    await context.close();
  });

  it('a worker that ends by itself: idle it is not missed, at work it is told of, and the next one works', async () => {
    const { page, context } = await openPage();
    await openRack(page);
    for (const w of page.workers()) await w.evaluate('self.close()').catch(() => undefined);
    await go(page, 'Fit');
    await page.getByRole('radio', { name: /slip: loose/ }).click();
    await page.getByRole('button', { name: 'Draw the ladder' }).waitFor();
    await expect(page.locator('.notice').count()).resolves.toBe(0);
    // The one that proves beside ends when it would answer with its first proof: the other makes that as well.
    page.on('worker', (w) => {
      if (/proof-worker/.test(w.url()))
        void w.evaluate(() => {
          const say = self.postMessage.bind(self);
          self.postMessage = (said: { value: unknown }) => (said.value === true ? say(said) : self.close());
        });
    });
    await page.getByRole('button', { name: 'Make it all' }).click();
    await proved(page);
    for (const w of page.workers()) await w.evaluate('self.setTimeout = () => self.close()');
    await page.getByRole('button', { name: 'Make it again' }).click();
    await page.locator('.notice', { hasText: 'ended by itself' }).waitFor({ timeout: 30_000 });
    await page.getByRole('button', { name: 'Make it again' }).click();
    await page
      .getByRole('button', { name: 'Stop', exact: true })
      .waitFor({ state: 'detached', timeout: 60_000 });
    await expect(page.locator('.notice').count()).resolves.toBe(0);
    await proved(page);
    await context.close();
  });

  it('a browser that is full: the job stays open and can be downloaded', async () => {
    const { page, context } = await openPage((c) =>
      c.addInitScript(() => {
        const put = IDBObjectStore.prototype.put;
        IDBObjectStore.prototype.put = function (value, key) {
          if (key === 'job') throw new DOMException('no room', 'QuotaExceededError');
          return put.call(this, value, key);
        };
      }),
    );
    await openRack(page);
    await page.locator('.notice', { hasText: 'no room left' }).waitFor();
    const waiting = page.waitForEvent('download');
    await page.locator('.notice').getByRole('button', { name: 'Download the job' }).click();
    expect([...(await files(await waiting)).keys()]).toContain('job.json');
    await context.close();
  });

  it('a saved job of an older version: set aside whole, and can be had', async () => {
    const { page, context, faults } = await openPage();
    await page.getByRole('heading', { name: 'Begin with a drawing' }).waitFor();
    const old = { format: 'haunch-saved-job', version: 0, job: 'a job of last year' };
    await page.evaluate(
      (record) =>
        new Promise<void>((resolve) => {
          const r = indexedDB.open('haunch', 1);
          r.onsuccess = () => {
            const t = r.result.transaction('kept', 'readwrite');
            t.objectStore('kept').put(record, 'job');
            t.oncomplete = () => resolve();
          };
        }),
      old,
    );
    await page.reload();
    await page.locator('.notice', { hasText: 'another version' }).waitFor();
    await openRack(page);
    await page.getByText('Saved in this browser').waitFor();
    const waiting = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Download it as it is' }).click();
    expect(JSON.parse(readFileSync(await (await waiting).path(), 'utf8'))).toEqual(old);
    const kept = await page.evaluate(
      () =>
        new Promise((resolve) => {
          const r = indexedDB.open('haunch', 1);
          r.onsuccess = () => {
            const g = r.result.transaction('kept').objectStore('kept').get('set aside');
            g.onsuccess = () => resolve(g.result);
          };
        }),
    );
    expect(kept).toEqual(old);
    expect(faults).toEqual([]);
    await context.close();
  });

  it('a browser that is too old', async () => {
    const { page, context } = await openPage((c) =>
      c.addInitScript('delete globalThis.DecompressionStream; delete globalThis.Worker;'),
    );
    expect(await page.getByRole('alert').textContent()).toContain('Worker, DecompressionStream');
    await context.close();
  });
});

it('every screen is free of what axe finds (WCAG 2.2 A and AA), light and dark, narrow and wide', async () => {
  const { page, context } = await openPage();
  const audit = async (what: string) => {
    const found = await page.evaluate(async () => {
      const { axe } = globalThis as unknown as {
        axe: { run: (o: object) => Promise<{ violations: Found[] }> };
      };
      interface Found {
        readonly id: string;
        readonly nodes: readonly { readonly html: string }[];
      }
      const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
      const { violations } = await axe.run({ runOnly: tags });
      return violations.flatMap((v) => v.nodes.slice(0, 3).map((n) => `${v.id}: ${n.html.slice(0, 160)}`));
    });
    expect(found, what).toEqual([]);
  };
  await page.evaluate(readFileSync(AXE, 'utf8'));
  await audit('before there is a job');
  await openRack(page);
  await page.getByRole('button', { name: 'Make it all' }).click();
  await proved(page);
  await go(page, 'Boards');
  await page.getByRole('button', { name: 'Begin one' }).click();
  await page.getByRole('button', { name: 'Enter this job’s sheets' }).click();
  await page.getByText('1 line was entered here: download it.').waitFor();
  await page.getByRole('button', { name: 'Enter all of it as cut' }).click();
  await page.getByText(/^[2-9] lines were entered here/).waitFor();
  const book = readFileSync(await (await downloaded(page, 'Download the day book')).path(), 'utf8');
  expect(book.match(/"kind":"[a-z-]+"/g)!.slice(0, 2)).toEqual(['"kind":"board"', '"kind":"cut"']);
  for (const scheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme: scheme });
    await page.setViewportSize(
      scheme === 'dark' ? { width: 380, height: 800 } : { width: 1100, height: 900 },
    );
    for (const screen of SCREENS) {
      await page.evaluate((s) => {
        location.hash = s;
      }, screen);
      await page.getByRole('heading', { level: 1, name: new RegExp(screen, 'i') }).waitFor();
      await audit(`${screen}, ${scheme}`);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      expect(wide, `${screen} is wider than the screen`).toBeLessThanOrEqual(0);
    }
  }
  await context.close();
});
