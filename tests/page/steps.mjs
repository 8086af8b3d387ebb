// What the page tests do over and over: the demo, its sweep, a plan, and what the terminal tool says.
import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { ROOT, openPage } from './harness.mjs';

export const SHOOT = join(ROOT, 'demo-data', 'shoot.json');
export const SWEEP = join(ROOT, 'demo-data', 'sweep.csv');

/** The plan as the terminal tool prints it. SPURLESS_PLAN: the tool, if it is built already. */
export function terminalPlan(...args) {
  const [tool, ...before] = process.env.SPURLESS_PLAN
    ? [process.env.SPURLESS_PLAN]
    : ['cargo', 'run', '--quiet', '--release', '-p', 'spurless-tests', '--bin', 'plan', '--'];
  // 3: proved that it cannot be done; that is an answer too.
  try {
    return JSON.parse(execFileSync(tool, [...before, ...args], { cwd: ROOT, encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] }));
  } catch (error) {
    if (error.status === 3) return JSON.parse(error.stdout);
    throw error;
  }
}

/** "544.000" as a terminal's "544000000" reads on the page: moved by hand, not by the code under test. */
export const megahertz = (hz) => String(hz).replace(/^(\d+)(\d{3})\d{3}$/, '$1.$2');

/** The page with the demo shoot open, at its own time of day: the doors open in ten minutes. */
export async function openDemo(options) {
  const page = await openPage(options);
  await page.clock.setFixedTime('2026-05-20T14:10:00');
  await page.locator('#look').click();
  await page.locator('#place-body .answer').waitFor();
  return page;
}

export async function addSweep(page, file = SWEEP) {
  await page.locator('#sweep-file').setInputFiles(file);
  await page.locator('#sweep-answer', { hasText: /^Heard/ }).waitFor();
}

export async function plan(page) {
  await page.locator('#plan').click();
  await page.locator('#run-sheet').waitFor();
}

/** The demo, swept and planned. */
export async function plannedDemo(options) {
  const page = await openDemo(options);
  await addSweep(page);
  await plan(page);
  return page;
}

/** Walks through Pair with the good answer to every line, up to the one that holds `until`.
 * @returns {Promise<string[]>} the lines */
export async function pairUp(page, until) {
  const lines = [];
  for (;;) {
    const line = await page.locator('#pair-step').count() && await page.locator('#pair-text').innerText();
    if (!line || (until && line.includes(until))) return lines;
    lines.push(line);
    await page.locator('#pair-step .main').click();
    await page.waitForFunction((old) => document.querySelector('#pair-text')?.innerText !== old, line);
  }
}

/** The story's own plan: the carriers and spares of "Prize day at Tern Quay", invented. */
export const STORY = ['544.000', '544.800', '558.800', '522.300', '568.700', '549.000'];

/** The demo on the story's carriers. */
export async function storyDemo(options) {
  const page = await openDemo(options);
  await page.evaluate((story) => {
    const kept = JSON.parse(localStorage.getItem('spurless'));
    kept.slots.demo.shoot.links.forEach((link, at) => Object.assign(link, { carrier_hz: story[at], fixed: true }));
    localStorage.setItem('spurless', JSON.stringify(kept));
  }, STORY.map((mhz) => Math.round(Number(mhz) * 1e6)));
  await page.reload();
  await addSweep(page);
  await plan(page);
  await page.evaluate(() => {
    const kept = JSON.parse(localStorage.getItem('spurless'));
    for (const row of kept.slots.demo.plan.report.carriers.slice(0, 4)) row.spares = [537_200_000, 524_700_000];
    localStorage.setItem('spurless', JSON.stringify(kept));
  });
  await page.reload();
  await page.locator('#sweep-answer', { hasText: /^Heard/ }).waitFor();
  return page;
}

/** The late crew of 14:20 is entered. */
export async function lateCrew(page) {
  await page.locator('#foreign-fold > summary').click();
  await page.locator('#foreign-add-fold > summary').click();
  await page.locator('#foreign-add-label').fill('late crew');
  await page.locator('#foreign-add-carrier_hz').fill('544.775');
  await page.locator('#foreign-add-form button[type=submit]').click();
}

/** The sheet's rows: [link, carrier, spares]. */
export const sheetRows = (page) => page.locator('#run-sheet tbody tr').evaluateAll((rows) => rows.map((row) => [
  row.querySelector('th').firstChild.textContent,
  row.querySelector('td.carrier').textContent,
  [...row.querySelectorAll('.spare')].map((one) => one.textContent),
]));

/** What the page keeps of the open shoot. */
export const keptShoot = (page) => page.evaluate(() => {
  const kept = JSON.parse(localStorage.getItem('spurless'));
  return kept.slots[kept.active].shoot;
});

/** Opens every fold, and those that appear in them. */
export const unfold = (page) => page.evaluate(async () => {
  for (let shut = [0]; shut.length > 0;) {
    shut = [...document.querySelectorAll('details:not([open])')];
    for (const fold of shut) fold.open = true;
    // What a fold holds is built after it says that it opened.
    await new Promise((done) => setTimeout(done, 100));
  }
});
