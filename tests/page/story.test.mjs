// The story: the demo shoot from its sweep to its sheet, at phone size.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { SHOOT, SWEEP, addSweep, keptShoot, megahertz, openDemo, plan, plannedDemo, sheetRows, terminalPlan } from './steps.mjs';

test('sweep, plan and sheet give what the terminal tool gives', async () => {
  const page = await plannedDemo();
  const expected = terminalPlan(SHOOT, '--sweep', SWEEP);
  assert.equal(expected.status, 'complete');
  assert.equal(await page.locator('#plan-answer').innerText(), expected.answer);
  assert.deepEqual(await sheetRows(page), expected.carriers.map((row) => [row.label, megahertz(row.carrier_hz), row.spares.map(megahertz)]));
  assert.deepEqual(page.complaints, []);
});

test('without a sweep too the page plans what the terminal tool plans', async () => {
  const page = await openDemo();
  await plan(page);
  const expected = terminalPlan(SHOOT);
  assert.deepEqual(await sheetRows(page), expected.carriers.map((row) => [row.label, megahertz(row.carrier_hz), row.spares.map(megahertz)]));
});

test('a reload keeps the shoot, the sweep and the plan', async () => {
  const page = await plannedDemo();
  const [rows, heard] = [await sheetRows(page), await page.locator('#sweep-answer').innerText()];
  await page.reload();
  await page.locator('#sweep-answer', { hasText: /^Heard/ }).waitFor();
  assert.deepEqual(await sheetRows(page), rows);
  assert.equal(await page.locator('#sweep-answer').innerText(), heard);
  assert.deepEqual(page.complaints, []);
});

test('the page never says ready, and says what is missing', async () => {
  const page = await openDemo();
  assert.equal(await page.locator('#verdict').innerText(), 'Not yet: 2 things');
  await addSweep(page);
  assert.equal(await page.locator('#verdict').innerText(), 'Not yet: 1 thing');
  await plan(page);
  assert.equal(await page.locator('#verdict').innerText(), 'Planned, not proved');
  assert.match(await page.locator('#glance').innerText(), /all 6 links planned\.[^]*Pair: 0 of 6 links paired and live/);
  assert.doesNotMatch(await page.locator('body').innerText(), /ready to roll/i);
});

test('the trap of the story is refused with its arithmetic, and the nearest open carrier is one tap away', async () => {
  // Prize day at Tern Quay, invented: 2 x 544.800 - 544.000 = 545.600. The arithmetic is the source.
  const page = await openDemo();
  for (const [label, carrier] of [['0', '544.000'], ['1', '544.800']]) {
    await page.locator(`#link-${label}-fold > summary`).click();
    await page.locator(`#link-${label}-carrier_hz`).fill(carrier);
    await page.locator(`#link-${label}-fixed`).check();
    await page.locator(`#link-${label}-fold > summary`).click();
  }
  await addSweep(page);
  await plan(page);
  await page.locator('#ask-link').selectOption({ label: 'L3' });
  await page.locator('#ask-carrier').fill('545,6');
  await page.locator('#ask-carrier').press('Enter');
  await page.locator('#why', { hasText: 'not available' }).waitFor();
  assert.match(await page.locator('#why').innerText(), /2 x 544\.800 - 544\.000 = 545\.600/);
  const near = (await page.locator('#near-above').innerText()).split('\n')[0].trim();
  await page.locator('#near-above').click();
  await page.locator('#why', { hasText: /open\.|its carrier\./ }).waitFor();
  assert.match(await page.locator('#why').innerText(), new RegExp(`^${near.replace('.', '\\.')}\\sMHz for L3: `));
});

test('a plan can be stopped, and then nothing has changed', async () => {
  const page = await openDemo();
  // Six alike in one short window with every kind looked at: long to settle.
  await page.evaluate(() => {
    const kept = JSON.parse(localStorage.getItem('spurless'));
    const { shoot } = kept.slots.demo;
    shoot.rules = { ...shoot.rules, two_transmitter_5_hz: 75000, three_transmitter_5_hz: 50000, two_transmitter_7_hz: 50000, spares: 2 };
    delete shoot.cells;
    shoot.links = Array.from({ length: 24 }, (_, at) => ({ ...shoot.links[0], label: `M${at}`, windows: [{ low_hz: 470000000, high_hz: 520000000, step_hz: 25000 }] }));
    localStorage.setItem('spurless', JSON.stringify(kept));
  });
  await page.reload();
  await page.locator('#plan').click();
  await page.locator('#planning', { hasText: 'carriers tried' }).waitFor();
  await page.locator('#stop-planning').click();
  await page.locator('#plan-error').waitFor();
  assert.equal(await page.locator('#plan-error').innerText(), 'Stopped. Nothing was planned.');
  assert.equal(await page.locator('#plan').innerText(), 'Plan carriers');
});

test('a seventh link that cannot fit is proved, and what to loosen is said', async () => {
  const page = await openDemo();
  // Seven links in 3.2 MHz: with 400 kHz between neighbours nine would fit, the products leave fewer.
  await page.evaluate(() => {
    const kept = JSON.parse(localStorage.getItem('spurless'));
    const { shoot } = kept.slots.demo;
    shoot.rules.unheard = 'allow';
    delete shoot.cells;
    shoot.links = Array.from({ length: 7 }, (_, at) => ({ label: `L${at + 1}`, windows: [{ low_hz: 480000000, high_hz: 482000000, step_hz: 25000 }] }));
    localStorage.setItem('spurless', JSON.stringify(kept));
  });
  await page.reload();
  await page.locator('#plan').click();
  await page.locator('#plan-answer', { hasText: 'Proved' }).waitFor();
  assert.match(await page.locator('#verdict').innerText(), /^Not yet/);
});

test('whatever is removed comes back with one tap', async () => {
  const page = await openDemo();
  const before = await keptShoot(page);
  await page.locator('#foreign-fold > summary').click();
  await page.locator('#foreign-2-fold > summary').click();
  await page.locator('#foreign-2-remove').click();
  assert.equal((await keptShoot(page)).site.foreign.length, 5);
  await page.locator('#notice-undo').click();
  assert.deepEqual(await keptShoot(page), before);
});

test('a change after the plan is said wherever the plan is shown', async () => {
  const page = await plannedDemo();
  await page.locator('#rules > summary').click();
  await page.locator('#rule-spacing_hz').fill('500');
  await page.locator('#rule-spacing_hz').blur();
  await page.locator('#plan-answer', { hasText: 'Something changed' }).waitFor();
  assert.match(await page.locator('#paper').innerText(), /Out of date/);
  assert.equal(await page.locator('#verdict').innerText(), 'Not yet: 1 thing');
});

test('there is a way out of the demo, and back into it as it was left', async () => {
  const page = await plannedDemo();
  await page.locator('#leave-demo').click();
  await page.locator('#start').click();
  await page.locator('#shoot-name').fill('My own');
  await page.locator('#shoot-name').blur();
  assert.equal(await page.locator('h1').last().innerText(), 'My own');
  await page.locator('#look').last().click();
  assert.equal((await sheetRows(page)).length, 6);
  await page.locator('#leave-demo').click();
  assert.equal(await page.locator('h1').last().innerText(), 'My own');
});
