// Levels: from the mouth to the file, with typical devices.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { accessibilityFindings } from './harness.mjs';
import { keptShoot, openDemo, unfold } from './steps.mjs';

/** The demo with the levels of its first transmitter begun. */
async function begun() {
  const page = await openDemo();
  await page.locator('#levels-0-fold > summary').click();
  await page.locator('#levels-0-begin').click();
  await page.locator('#ladder').waitFor();
  return page;
}

test('settings are proposed, taken with one tap, kept over a reload, and taken back', async () => {
  const page = await begun();
  assert.match(await page.locator('#levels-0-answer').innerText(), /^Set the transmitter's input to .* dB, the receiver's output to .* dB, the gain of the camera input to .* dB\.$/);
  await page.locator('#levels-0-best').click();
  const [{ link, transmitter, settings }] = (await keptShoot(page)).levels;
  assert.deepEqual([link, transmitter], ['L1', "mayor's pack"]);
  // Source: common practice, no published source: 12 to 18 dB down into a small microphone socket.
  assert.ok(settings.receiver_db <= -12 && settings.receiver_db >= -18, `${settings.receiver_db} dB`);
  assert.match(await page.locator('#levels-0-answer').innerText(), /^Fits: /);
  await page.reload();
  await page.locator('#levels-answer', { hasText: 'Levels of 6 transmitters not set.' }).waitFor();
  assert.deepEqual((await keptShoot(page)).levels[0].settings, settings);
  await page.locator('#undo').click();
  assert.equal((await keptShoot(page)).levels[0].settings, null);
});

test('a meter reading gives the next setting, with its arithmetic', async () => {
  const page = await begun();
  await page.locator('#levels-0-best').click();
  const before = (await keptShoot(page)).levels[0].settings.transmitter_db;
  await page.locator('#levels-0-trim > summary').click();
  await page.locator('#levels-0-meter').fill('abc');
  await page.locator('#levels-0-meter-next').click();
  assert.match(await page.locator('#levels-0-trimmed').innerText(), /"abc" is not a number/);
  // 20 log10(100 / 25) is 12.04 dB under full, the lowest wanted is 40 %, 7.96 dB under it; what the knob has left
  // goes to 0 dB. The arithmetic is the source.
  await page.locator('#levels-0-meter').fill('25');
  await page.locator('#levels-0-meter-next').click();
  const missing = (12.04 - 7.96 + before).toFixed(2);
  assert.match(await page.locator('#levels-0-trimmed').innerText(), new RegExp(`^Set the transmitter's input from ${before} dB to 0 dB; it is still ${missing} dB too quiet`));
  await page.locator('#levels-0-take').click();
  assert.equal((await keptShoot(page)).levels[0].settings.transmitter_db, 0);
});

test('automatic gain is said first, and nothing is found by the accessibility engine with all unfolded', async () => {
  const page = await begun();
  await page.locator('#levels-0-devices > summary').click();
  await page.locator('#levels-0-agc-automatic_gain').check();
  assert.match(await page.locator('#levels-0-answer').innerText(), /automatic|by itself/i);
  await unfold(page);
  assert.deepEqual(await accessibilityFindings(page), []);
  assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), 390);
  assert.deepEqual(page.complaints, []);
});
