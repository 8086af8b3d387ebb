// The page comes up in both its forms: nothing complains, nobody else is asked for anything.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { openPage, openSingleFile } from './harness.mjs';

test('the served page loads without a complaint', async () => {
  const page = await openPage();
  await page.waitForLoadState('networkidle');
  assert.deepEqual(page.complaints, []);
  assert.equal(await page.title(), 'Spurless');
  assert.ok(page.server.requests.includes('/pkg/spurless_wasm_bg.wasm'), 'the page did not ask for its module');
});

test('the one-file page loads from disk with the network off', async () => {
  const page = await openSingleFile();
  await page.waitForLoadState('networkidle');
  assert.deepEqual(page.complaints, []);
  assert.match(await page.locator('h1').first().innerText(), /\S/);
});

test('the page is as wide as the phone', async () => {
  const page = await openPage();
  assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), 390);
});
