// Pair: from a planned shoot to links that are proved one by one. The shoot is invented.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { keptShoot, lateCrew, pairUp, plannedDemo, sheetRows, storyDemo, STORY } from './steps.mjs';

test('the walk sets receivers first with all off, then one transmitter at a time, and ends proved', async () => {
  const page = await storyDemo();
  const lines = await pairUp(page);
  // By hand: one line for all, two for each of 6 receivers, three for each of 7 transmitters, one live on each link.
  assert.equal(lines.length, 1 + 2 * 6 + 3 * 7 + 6);
  assert.match(lines[0], /all your transmitters off/);
  const receivers = lines.map((line, at) => [line, at]).filter(([line]) => line.startsWith('Set the receiver'));
  assert.deepEqual(receivers.map(([line]) => line), STORY.map((mhz, at) => `Set the receiver of L${at + 1} to ${mhz} MHz.`));
  assert.ok(receivers.at(-1)[1] < lines.findIndex((line) => / on, alone/.test(line)), 'a transmitter went on before the receivers were done');
  // Between one that goes on to be proved and the next, it goes off.
  const proving = lines.filter((line) => / on, alone|falls/.test(line)).map((line) => (line.includes('falls') ? 'off' : 'on'));
  assert.deepEqual(proving, Array.from({ length: 7 }, () => ['on', 'off']).flat());
  assert.equal(await page.locator('#pair-answer').innerText(), '6 links paired, one transmitter live on each.');
  assert.equal(await page.locator('#verdict').innerText(), 'Paired, no test take yet');
  assert.match(await page.locator('#run-sheet').innerText(), /plug-on on the shotgun live, proved at 14:10/);
  assert.match(await page.locator('#paper').innerText(), /Proved on air\./);
  assert.deepEqual(page.complaints, []);
});

test('the number to dial is the largest thing, and a reload goes on where it was', async () => {
  const page = await storyDemo();
  await pairUp(page, 'receiver of L6');
  assert.equal((await page.locator('#pair-step .digits').innerText()).replace(/\s/g, ''), '549.000');
  const sizes = await page.locator('#pair *').evaluateAll((all) => all.map((one) => [one.className, parseFloat(getComputedStyle(one).fontSize)]));
  const dial = sizes.find(([name]) => name === 'digits')[1];
  assert.ok(dial >= 48 && sizes.every(([, size]) => size <= dial), `${dial} px`);
  await page.reload();
  await page.locator('#pair-text', { hasText: 'Set the receiver of L6 to 549.000 MHz.' }).waitFor();
  assert.match(await page.locator('#pair-4-row').innerText(), /L5 not yet/);
});

test('a display that shows another number is told the two that both ends can be set to', async () => {
  const page = await storyDemo();
  await pairUp(page, 'receiver of L6');
  await page.locator('#pair-other > summary').click();
  await page.locator('#pair-shown').fill('549,05');
  await page.locator('#pair-note').click();
  await page.locator('#pair-refusal').waitFor();
  // By hand: the pack steps 125 kHz from 534.125; 549.000 and 549.125 are 119 and 120 steps up.
  assert.match(await page.locator('#pair-refusal').innerText(), /^549\.050 MHz will not do for L6: .*nearest are 549\.000 and 549\.125 MHz\./);
  assert.match(await page.locator('#pair-warnings').innerText(), /L6 is on 549\.050; the plan says 549\.000 MHz/);
  assert.match(await page.locator('#pair-text').innerText(), /receiver of L6/);
  await page.locator('#pair-tap-0').click();
  await page.locator('#pair-text', { hasText: 'radio meter of L6' }).waitFor();
  assert.equal(await page.locator('#pair-refusal').count(), 0);
});

test('two live on one receiver is loud everywhere, and undo restores exactly', async () => {
  const page = await plannedDemo();
  await pairUp(page);
  const before = await keptShoot(page);
  await page.locator('#pair-3-fold > summary').click();
  await page.locator('#pair-on-3-1').click();
  await page.locator('#pair-answer', { hasText: 'Two transmitters of link L4 are live: plug-on on the shotgun and spare pack. Switch one off.' }).waitFor();
  assert.equal(await page.locator('#verdict').innerText(), 'Stop: mend the pairing');
  await page.locator('#undo').click();
  await page.locator('#pair-answer', { hasText: '6 links paired' }).waitFor();
  assert.deepEqual(await keptShoot(page), before);
});

test('a swap is one tap: first the one goes off, then the other on', async () => {
  const page = await plannedDemo();
  await pairUp(page);
  await page.locator('#pair-3-fold > summary').click();
  await page.locator('#pair-swap-to-3-1').click();
  await page.locator('#pair-swap-3', { hasText: 'Switch plug-on on the shotgun off' }).waitFor();
  await page.locator('#pair-done-3').click();
  await page.locator('#pair-swap-3', { hasText: 'Now switch spare pack on' }).waitFor();
  assert.match(await page.locator('#pair-3-row').innerText(), /^L4 not yet\s+off/);
  await page.locator('#pair-done-3').click();
  await page.locator('#pair-3-row', { hasText: 'spare pack live' }).waitFor();
  assert.match(await page.locator('#pair-3-row').innerText(), /^L4 ready/);
  assert.equal(await page.locator('#pair-answer').innerText(), '6 links paired, one transmitter live on each.');
});

test('a meter that is up with all off names somebody else', async () => {
  const page = await plannedDemo();
  await pairUp(page, 'radio meter of L2');
  await page.locator('#pair-tap-1').click();
  await page.locator('#pair-answer', { hasText: /^Somebody else is on/ }).waitFor();
  assert.match(await page.locator('#verdict').innerText(), /^Stop/);
});

test('a late crew moves one link and leaves the others; the pairing of that link is open again', async () => {
  // The story, 14:20: 544.775 comes up 25 kHz under L2. With the first spare, 537.200, the crew's 540.950 makes
  // 2 x 540.950 - 537.200 = 544.700, 75 kHz off the late crew; the second stands. The arithmetic is the source.
  const page = await storyDemo();
  await pairUp(page);
  await lateCrew(page);
  await page.locator('#move').waitFor();
  const words = await page.locator('#moves').innerText();
  assert.match(words, /^L2 cannot stay on 544\.800\. Move it to 524\.700 MHz, leave the others\./);
  assert.match(words, /Spare 537\.200: .*2 x 540\.950 - 537\.200 = 544\.700, 75 kHz from late crew/);
  const before = await keptShoot(page);
  await page.locator('#move').click();
  await page.locator('#run-sheet', { hasText: '524.700' }).waitFor();
  assert.deepEqual((await sheetRows(page)).map(([, carrier]) => carrier), ['544.000', '524.700', '558.800', '522.300', '568.700', '549.000']);
  // The plan holds again, the log knows, and L2 has to be set and proved anew.
  assert.doesNotMatch(await page.locator('#paper').innerText(), /Out of date/);
  assert.match(await page.locator('#paper .log').innerText(), /14:10 L2 moved from 544\.800 to 524\.700 MHz/);
  assert.equal(await page.locator('#pair-text').innerText(), 'Set the receiver of L2 to 524.700 MHz.');
  assert.match(await page.locator('#pair-0-row').innerText(), /^L1 ready/);
  assert.match(await page.locator('#pair-1-row').innerText(), /^L2 not yet/);
  await page.locator('#notice-undo').click();
  await page.locator('#move').waitFor();
  assert.deepEqual(await keptShoot(page), before);
});
