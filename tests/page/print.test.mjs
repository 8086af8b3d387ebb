// The sheet on paper.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { plannedDemo, sheetRows } from './steps.mjs';

test('the sheet is one side of A4', async () => {
  const page = await plannedDemo();
  const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
  assert.equal((pdf.match(/\/Type\s*\/Page\b/g) ?? []).length, 1);
  const [, width, height] = pdf.match(/\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]/);
  // ISO 216: 210 mm x 297 mm, 72 points to 25.4 mm.
  assert.ok(Math.abs(width - 595.28) < 1 && Math.abs(height - 841.89) < 1, `${width} x ${height} points`);
});

test('on paper there is the sheet, in true black, and nothing else', async () => {
  const page = await plannedDemo({ colorScheme: 'dark' });
  const rows = await sheetRows(page);
  await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
  const words = await page.locator('body').innerText();
  for (const [label, carrier] of rows) assert.match(words, new RegExp(`${label}[^]*${carrier}`));
  assert.doesNotMatch(words, /Plan again|Add a sweep|Undo/);
  const colours = await page.locator('#paper *').evaluateAll((all) => [...new Set(all.map((one) => getComputedStyle(one).color))]);
  assert.deepEqual(colours, ['rgb(0, 0, 0)']);
});
