// Takes a picture of each section: 390 pixels wide, twice as dense. With SPURLESS_PICTURES=yes they replace those
// in web-demo/screenshots; otherwise they go to a folder that is thrown away, and only their size is looked at.
import assert from 'node:assert/strict';
import { mkdirSync, mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { ROOT, openPage } from './harness.mjs';
import { plannedDemo } from './steps.mjs';

const kept = process.env.SPURLESS_PICTURES === 'yes';
const folder = kept ? join(ROOT, 'web-demo', 'screenshots') : mkdtempSync(join(tmpdir(), 'spurless-'));
mkdirSync(folder, { recursive: true });
after(() => kept || rmSync(folder, { recursive: true }));
/** A picture larger than this does not belong in a repository. */
const MOST_BYTES = 150_000;

async function take(page, name, clip) {
  const path = join(folder, `${name}.png`);
  await page.screenshot({ path, animations: 'disabled', ...(clip ? { clip, fullPage: true } : {}) });
  assert.ok(statSync(path).size < MOST_BYTES, `${name}.png is ${statSync(path).size} bytes`);
}

/** The first screen or so of a section, with the margins of the page. */
async function section(page, id, name) {
  const box = await page.locator(id).evaluate((one) => ({ top: one.getBoundingClientRect().top + scrollY, height: Math.min(780, one.getBoundingClientRect().height) }));
  await take(page, name, { x: 0, y: box.top, width: 390, height: box.height });
}

/** What stands still while the page moves would lie across a long picture. */
const unstick = (page) => page.evaluate(() => {
  for (const name of ['.mast', '.day-nav', '.notice']) document.querySelector(name).style.position = 'static';
});

for (const colorScheme of ['light', 'dark']) {
  const suffix = colorScheme === 'dark' ? '-night' : '';
  test(`the pictures of the ${colorScheme} page`, async () => {
    const options = { deviceScaleFactor: 2, colorScheme };
    const first = await openPage(options);
    await first.locator('#look').waitFor();
    await take(first, `welcome${suffix}`);
    const page = await plannedDemo(options);
    await page.evaluate(() => scrollTo(0, 0));
    await take(page, `glance${suffix}`);
    await page.locator('#ask-link').selectOption({ label: 'L3' });
    await page.locator('#ask-carrier').fill('540.500');
    await page.locator('#ask-carrier').press('Enter');
    await page.locator('#why .why-head').waitFor();
    await page.evaluate(() => document.activeElement.blur());
    await unstick(page);
    for (const name of ['place', 'sweep', 'sheet']) await section(page, `#${name}`, `${name}${suffix}`);
    await section(page, '#carriers', `carriers${suffix}`);
    await page.locator('#zoom-in').click();
    await page.locator('#zoom-in').click();
    await page.locator('#air .trace').waitFor();
    await page.evaluate(() => document.activeElement.blur());
    await section(page, '#picture', `picture${suffix}`);
    await page.locator('#link-5-fold > summary').click();
    await page.evaluate(() => document.activeElement.blur());
    await section(page, '#link-5-row', `link${suffix}`);
  });
}
