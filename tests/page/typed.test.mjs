// What an operator types: taken over, refused with a sentence at its field, and kept either way.
import assert from 'node:assert/strict';
import { writeFileSync, mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'node:test';
import { openPage } from './harness.mjs';
import { keptShoot, openDemo, plannedDemo, sheetRows } from './steps.mjs';

async function startShoot() {
  const page = await openPage();
  await page.locator('#start').click();
  return page;
}

async function addLink(page, label, low, high) {
  await page.locator('#link-add-fold > summary').click();
  await page.locator('#link-add-label').fill(label);
  await page.locator('#link-add-low_hz').fill(low);
  await page.locator('#link-add-high_hz').fill(high);
  await page.locator('#link-add-form button[type=submit]').click();
}

test('a shoot typed in by hand is planned and kept', async () => {
  const page = await startShoot();
  await page.locator('#shoot-name').fill('Harbour market');
  await addLink(page, 'A', '606', '630,000 MHz');
  await page.locator('#link-0-row').waitFor();
  // The next link starts from the window of the last.
  await page.locator('#link-add-fold > summary').click();
  assert.equal(await page.locator('#link-add-low_hz').inputValue(), '606.000');
  await page.locator('#link-add-form button[type=submit]').click();
  const shoot = await keptShoot(page);
  assert.equal(shoot.name, 'Harbour market');
  assert.deepEqual(shoot.links.map((link) => link.windows), Array(2).fill([{ low_hz: 606000000, high_hz: 630000000, step_hz: 25000 }]));
  await page.reload();
  assert.equal(await page.locator('#shoot-name').inputValue(), 'Harbour market');
  assert.equal(await page.locator('#link-list > ul > li').count(), 2);
  assert.deepEqual(page.complaints, []);
});

test('a number that is none is refused at its field, and stays there over a reload', async () => {
  const page = await startShoot();
  await addLink(page, 'A', '6o6', '630');
  assert.match(await page.locator('#link-add-low_hz-wrong').innerText(), /6o6/);
  assert.equal(await page.locator('#link-add-low_hz').getAttribute('aria-invalid'), 'true');
  assert.equal(await page.evaluate(() => document.activeElement.id), 'link-add-low_hz');
  assert.deepEqual((await keptShoot(page)).links, []);
  await page.reload();
  await page.locator('#link-add-fold > summary').click();
  assert.equal(await page.locator('#link-add-low_hz').inputValue(), '6o6');
  assert.equal(await page.locator('#link-add-high_hz').inputValue(), '630');
});

test('a window the wrong way round is refused in the words of the core', async () => {
  const page = await startShoot();
  await addLink(page, 'A', '630', '606');
  assert.match(await page.locator('#link-add-form .wrong').first().innerText(), /link A, window 1/);
  assert.deepEqual((await keptShoot(page)).links, []);
});

test('a channel that the raster lacks is refused, the others stay', async () => {
  const page = await openDemo();
  const before = await keptShoot(page);
  await page.locator('#multiplexes-fold > summary').click();
  await page.locator('#multiplex-add-fold > summary').click();
  await page.locator('#multiplex-add-channel').fill('99');
  await page.locator('#multiplex-add-form button[type=submit]').click();
  assert.match(await page.locator('#multiplex-add-form .wrong').innerText(), /multiplex 4.*raster/);
  assert.deepEqual(await keptShoot(page), before);
});

const folder = mkdtempSync(join(tmpdir(), 'spurless-'));
const file = (name, content) => {
  const path = join(folder, name);
  writeFileSync(path, content);
  return path;
};

const BAD = [
  ['another kind of file', '{"format":"something-else","version":1,"name":"x"}', /this is no shoot; its first field must be/],
  ['a newer version', '{"format":"spurless-shoot","version":2,"name":"x"}', /newer Spurless/],
  ['a cut file', '{"format":"spurless-shoot","version":1,"name":"x","links":[{"label":', /line 1, column/],
  ['a field nobody knows', '{"format":"spurless-shoot","version":1,"name":"x","colour":"red"}', /colour/],
  ['a step in words', '{"format":"spurless-shoot","version":1,"name":"x","links":[{"label":"A","windows":[{"low_hz":1,"high_hz":2,"step_hz":"25k"}]}]}',
    /links\[0\]\.windows\[0\]\.step_hz.*write whole hertz, for example 25000/],
  ['a link that tunes nothing', '{"format":"spurless-shoot","version":1,"name":"x","links":[{"label":"A","windows":[]}]}', /link A: no tuning window; say what/],
  ['bytes', Buffer.from([0, 255, 254, 1, 2, 3]), /line 1, column/],
  ['nothing', '', /line 1, column/],
];

test('a bad file is refused with place and remedy, and leaves the shoot and its plan untouched', async () => {
  const page = await plannedDemo();
  const [before, rows] = [await keptShoot(page), await sheetRows(page)];
  for (const [name, content, sentence] of BAD) {
    await page.locator('#open-shoot').setInputFiles(file('bad.json', content));
    const words = page.locator('#open-shoot-wrong', { hasText: sentence });
    await words.waitFor({ timeout: 5000 }).catch(() => assert.fail(`${name}: no sentence like ${sentence}`));
    assert.match(await words.innerText(), /Your shoot is as it was\.$/, name);
    assert.deepEqual(await keptShoot(page), before, name);
    assert.deepEqual(await sheetRows(page), rows, name);
    // So that the next file's sentence is not taken for this one's.
    await page.reload();
    await page.locator('#run-sheet').waitFor();
  }
  assert.deepEqual(page.complaints, []);
});

test('a good file is opened, and the shoot before is one tap away', async () => {
  const page = await plannedDemo();
  const before = await keptShoot(page);
  await page.locator('#open-shoot').setInputFiles(file('good.json', '{"format":"spurless-shoot","version":1,"name":"From a friend"}'));
  await page.locator('h1.title', { hasText: 'From a friend' }).waitFor();
  await page.locator('#notice-undo').click();
  assert.deepEqual(await keptShoot(page), before);
  assert.equal((await sheetRows(page)).length, 6);
});

test('what is saved opens again as the same shoot, with the planned carriers in it', async () => {
  const page = await plannedDemo();
  const [rows, before] = [await sheetRows(page), await keptShoot(page)];
  const [download] = await Promise.all([page.waitForEvent('download'), page.locator('#save-shoot').click()]);
  assert.equal(download.suggestedFilename(), 'prize-day-at-tern-quay.json');
  const path = join(folder, 'saved.json');
  await download.saveAs(path);
  await page.locator('#open-shoot').setInputFiles(path);
  await page.locator('#notice', { hasText: 'Opened' }).waitFor();
  const opened = await keptShoot(page);
  assert.deepEqual(opened.links.map((link) => [link.label, (link.carrier_hz / 1e6).toFixed(3)]), rows.map(([label, carrier]) => [label, carrier]));
  assert.deepEqual({ ...opened, links: opened.links.map(({ carrier_hz, ...link }) => link) }, before);
});

test('the CSV has a row for each link', async () => {
  const page = await plannedDemo();
  const [download] = await Promise.all([page.waitForEvent('download'), page.locator('#save-csv').click()]);
  const path = join(folder, 'sheet.csv');
  await download.saveAs(path);
  const { readFileSync } = await import('node:fs');
  const text = readFileSync(path, 'utf8');
  for (const [label, carrier] of await sheetRows(page)) assert.match(text, new RegExp(`${label}\\b.*${carrier.replace('.', '\\.')}`));
});
