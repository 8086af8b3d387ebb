// Reach and cells of the demo shoot, which is invented.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { addSweep, keptShoot, openDemo, plan, storyDemo } from './steps.mjs';

const LIGHT = 299_792_458;
const metres = async (page, link) => Number((await page.locator(`#reach-${link}-row summary`).innerText()).match(/Sure to about (\d+) m/)[1]);

test('a link is as long as its noise allows, and where it was not swept the page says what it reckons with', async () => {
  const page = await openDemo();
  await plan(page);
  await page.locator('#reach-answer', { hasText: 'Sure to about' }).waitFor();
  await page.locator('#reach-0-fold > summary').click();
  // Source: kTB at 290 K in 200 kHz (CODATA k): -120.96 dBm, and a noise figure of 8 dB.
  const thermal = 10 * Math.log10(1.380649e-23 * 290 * 200_000 * 1e3) + 8;
  assert.match(await page.locator('#reach-0-row').innerText(), new RegExp(`Not swept here: .*: ${thermal.toFixed(0)} dBm in all`));
  const quiet = await metres(page, 0);
  await addSweep(page);
  await page.locator('#reach-0-row', { hasText: 'what the sweep heard at this very carrier' }).waitFor();
  // Source: the scenario: floor -106 dBm in each 25 kHz, give or take 2; eight of them are 200 kHz wide.
  const [, heard] = (await page.locator('#reach-0-row').innerText()).match(/carrier: (-\d+) dBm/);
  assert.ok(Math.abs(Number(heard) - (-106 + 10 * Math.log10(8))) <= 2.5, heard);
  assert.ok(await metres(page, 0) < quiet, 'more noise and as far');
});

test('antenna lengths follow from the carrier', async () => {
  const page = await storyDemo();
  await page.locator('#reach-5-fold > summary').click();
  // Source: a quarter of the speed of light (SI 2019) over 549.000 MHz; two antennas half a wave apart.
  const quarter = (LIGHT / 549e6 / 4) * 100;
  const words = await page.locator('#reach-5-row').innerText();
  assert.match(words, new RegExp(`quarter of a wave\\s+${quarter.toFixed(1)} cm`));
  assert.match(words, new RegExp(`apart at least\\s+${(2 * quarter).toFixed(0)} cm`));
});

test('what is said of the place changes the answer, is kept, and is undone', async () => {
  const page = await storyDemo();
  await page.locator('#reach-answer', { hasText: 'Sure to about' }).waitFor();
  const before = [await metres(page, 0), await keptShoot(page)];
  await page.locator('#reach-place > summary').click();
  await page.locator('#reach-antennas').selectOption({ label: 'one' });
  await page.waitForFunction((old) => !document.querySelector('#reach-0-row').innerText.includes(`about ${old} m`), before[0]);
  assert.ok(await metres(page, 0) < before[0], 'one antenna reaches as far as two');
  await page.locator('#reach-0-fold > summary').click();
  assert.match(await page.locator('#reach-0-row').innerText(), /second antenna/);
  await page.reload();
  await page.locator('#reach-answer', { hasText: 'Sure to about' }).waitFor();
  assert.equal((await keptShoot(page)).reach.antennas, 1);
  await page.locator('#undo').click();
  assert.deepEqual(await keptShoot(page), before[1]);
});

test('the presenter’s cells are changed in the break, on the page, at a glance and on paper', async () => {
  // The scenario: on since 13:00, 100 minutes left in the cold: 14:40, when the break begins.
  const page = await storyDemo();
  assert.equal(await page.locator('#cells-answer').innerText(), "First, L6, presenter's pack: change cells at 14:40.");
  assert.match(await page.locator('#glance').innerText(), /Next cells: L6, presenter's pack, at 14:40\./);
  assert.match(await page.locator('#run-sheet tbody tr').nth(5).innerText(), /presenter's pack: change cells at 14:40/);
  await page.locator('#cells-0-fold > summary').click();
  const words = await page.locator('#cells-0-row').innerText();
  // One set of two to put in and one spare set. 2000 mAh at 150 mA, four fifths left in the cold, four fifths used:
  // 13.33 h x 0.64 = 8 h 32 min.
  assert.match(words, /Bring 4 cells/);
  assert.match(words, /used for 8 h 32 min/);
  assert.match(words, /Use cells of one kind, age and charge together/);
  await page.locator('#cells-0-fresh').click();
  await page.locator('#cells-0-row', { hasText: 'Cells last until 16:00.' }).waitFor();
  assert.match(await page.locator('#paper .log').innerText(), /14:10 fresh cells in L6, presenter's pack/);
});

test('a day and the cells of a device are entered from nothing, and mistakes have a way back', async () => {
  const page = await openDemo();
  await page.evaluate(() => {
    const kept = JSON.parse(localStorage.getItem('spurless'));
    delete kept.slots.demo.shoot.day;
    delete kept.slots.demo.shoot.cells;
    localStorage.setItem('spurless', JSON.stringify(kept));
  });
  await page.reload();
  assert.match(await page.locator('#cells-answer').innerText(), /^Nothing is known of your cells/);
  await page.locator('#day-from_min').fill('9:00');
  await page.locator('#day-to_min').fill('soon');
  await page.locator('#day-form button[type=submit]').click();
  assert.match(await page.locator('#day-to_min-wrong').innerText(), /"soon": .*such as 14:40/);
  await page.locator('#day-to_min').fill('25:00');
  await page.locator('#day-form button[type=submit]').click();
  assert.deepEqual((await keptShoot(page)).day, { from_min: 540, to_min: 1500 });
  await page.locator('#cells-add-fold > summary').click();
  await page.locator('#cells-add-device').selectOption({ label: "L2, guest's pack" });
  await page.locator('#cells-add-form button[type=submit]').click();
  await page.locator('#cells-0-row', { hasText: "L2, guest's pack" }).waitFor();
  // Two alkaline cells at 150 mA, warm: under 10 h, of which four fifths are used, so once or twice in 16 hours.
  assert.match(await page.locator('#cells-answer').innerText(), /^First, L2, guest's pack: change cells at /);
  await page.locator('#cells-0-fold > summary').click();
  await page.locator('#cells-0-celsius').fill('-40');
  await page.locator('#cells-0-celsius').blur();
  await page.locator('#cells-0-row', { hasText: 'nothing is promised' }).waitFor();
});
