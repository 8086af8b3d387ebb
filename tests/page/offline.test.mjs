// Places without a network: the page comes from its service worker, the one-file page from disk.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { openSingleFile, readyOffline } from './harness.mjs';
import { SWEEP, addSweep, plan, plannedDemo, sheetRows } from './steps.mjs';

test('with the server stopped the page loads, and sweeps and plans', async () => {
  const page = await plannedDemo();
  await readyOffline(page);
  const rows = await sheetRows(page);
  await page.goOffline();
  await page.reload();
  await page.locator('#sweep-answer', { hasText: /^Heard/ }).waitFor();
  assert.deepEqual(await sheetRows(page), rows);
  await page.locator('#plan').click();
  await page.locator('#plan-answer', { hasText: 'All links have a carrier' }).waitFor();
  assert.deepEqual(await sheetRows(page), rows);
  assert.deepEqual(page.complaints, []);
});

test('the cache is named by what it holds, and holds the demo', async () => {
  const page = await plannedDemo();
  await readyOffline(page);
  const kept = await page.evaluate(async () => {
    const names = await caches.keys();
    return { names, demo: Boolean(await (await caches.open(names[0])).match('./demo/sweep.csv')) };
  });
  assert.equal(kept.names.length, 1);
  assert.match(kept.names[0], /^spurless-[0-9a-f]{16}$/);
  assert.ok(kept.demo);
});

test('the one-file page goes from sweep to sheet without any server', async () => {
  const page = await openSingleFile();
  await page.locator('#look').click();
  await addSweep(page, SWEEP);
  await plan(page);
  assert.equal((await sheetRows(page)).length, 6);
  assert.deepEqual(page.complaints, []);
});
