import { existsSync } from 'node:fs';
import { type Browser, chromium, type Page } from 'playwright-core';

/** Where a browser may stand: as the environment says, or as Debian and others install it. */
const PLACES = [
  process.env.CHROMIUM,
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
];

/** Starts the installed browser. @throws RangeError where there is none */
export async function launchBrowser(): Promise<Browser> {
  const executablePath = PLACES.find((p) => p !== undefined && existsSync(p));
  if (executablePath === undefined)
    throw new RangeError(
      'no browser is installed: apt-get install chromium, or say where it is with CHROMIUM',
    );
  return chromium.launch({
    executablePath,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
}

/** Goes on with Tab until what has the focus has this name; it must be reached. */
export async function tabTo(page: Page, name: RegExp, role?: string): Promise<void> {
  for (let i = 0; i < 120; i++) {
    await page.keyboard.press('Tab');
    const at = await page.evaluate(() => {
      const e = document.activeElement;
      if (!e) return { name: '', role: '' };
      const labels = 'labels' in e ? [...((e as HTMLInputElement).labels ?? [])] : [];
      const said =
        e.getAttribute('aria-label') ?? (labels.map((l) => l.textContent).join(' ') || e.textContent) ?? '';
      return { name: said.trim(), role: e.getAttribute('role') ?? e.tagName.toLowerCase() };
    });
    if (name.test(at.name) && (role === undefined || at.role === role)) return;
  }
  throw new Error(`the Tab key does not reach ${name}`);
}
