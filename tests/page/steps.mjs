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

/** The page with the demo shoot open. */
export async function openDemo(options) {
  const page = await openPage(options);
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
