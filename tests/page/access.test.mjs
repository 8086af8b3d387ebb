// For every eye and hand: an accessibility engine, small screens, large text, the keyboard, thumbs.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { accessibilityFindings, openPage } from './harness.mjs';
import { plannedDemo, unfold } from './steps.mjs';

for (const colorScheme of ['light', 'dark']) {
  test(`nothing to be found in the ${colorScheme}, folded and unfolded, and text has the enhanced contrast`, async () => {
    const first = await openPage({ colorScheme });
    await first.locator('#look').waitFor();
    assert.deepEqual(await accessibilityFindings(first), []);
    const page = await plannedDemo({ colorScheme });
    assert.deepEqual(await accessibilityFindings(page), []);
    await unfold(page);
    assert.deepEqual(await accessibilityFindings(page), []);
    // WCAG 2.2, 1.4.6: 7:1 for text, 4.5:1 for large text. The engine's rule leaves what is even below 4.5:1
    // to the ones above.
    const low = await page.evaluate(async () => {
      const { violations } = await globalThis.axe.run({ runOnly: { type: 'rule', values: ['color-contrast-enhanced'] } });
      return violations.flatMap((finding) => finding.nodes.map((node) => `${node.target} ${node.failureSummary}`));
    });
    assert.deepEqual(low, []);
  });
}

test('320 pixels are wide enough, with everything unfolded', async () => {
  const page = await plannedDemo({ viewport: { width: 320, height: 640 }, isMobile: false });
  await unfold(page);
  assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), 320);
});

test('text of twice the size still fits, with everything unfolded', async () => {
  // 1.4.4: the reader's own text size, which every size of the page follows.
  const page = await plannedDemo({ isMobile: false });
  await unfold(page);
  await page.evaluate(() => {
    document.documentElement.style.fontSize = '225%';
    dispatchEvent(new Event('resize'));
  });
  await page.waitForTimeout(200);
  assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), 390);
});

test('whatever can be touched is at least 44 pixels high and wide', async () => {
  const page = await plannedDemo();
  await unfold(page);
  const small = await page.evaluate(() => [...document.querySelectorAll('button, a, select, summary, label.button, label.tick, input:not([type=checkbox], [type=file]), textarea')]
    .filter((one) => one.checkVisibility() && !one.matches('.skip'))
    .map((one) => [one.id || one.textContent.trim(), one.getBoundingClientRect()])
    .filter(([, box]) => box.height < 44 || box.width < 44)
    .map(([name, box]) => `${name}: ${box.width} x ${box.height}`));
  assert.deepEqual(small, []);
});

test('the picture is asked with the keyboard, and its answer is a sentence', async () => {
  const page = await plannedDemo();
  await page.locator('#air').focus();
  await page.keyboard.press('ArrowRight');
  await page.locator('#why .why-head').waitFor();
  const [first, step] = [await page.locator('#ask-carrier').inputValue(), 0.025];
  await page.keyboard.press('ArrowRight');
  await page.waitForFunction((old) => document.querySelector('#ask-carrier').value !== old, first);
  assert.equal(await page.locator('#ask-carrier').inputValue(), (Number(first) + step).toFixed(3));
  assert.match(await page.locator('#air').getAttribute('aria-valuetext'), /^\d+\.\d{3} MHz$/);
});

test('a touch on the picture asks about that place', async () => {
  const page = await plannedDemo();
  const box = await page.locator('#air').boundingBox();
  await page.locator('#air').click({ position: { x: box.width / 2, y: 40 } });
  await page.locator('#why .why-head').waitFor();
  // The demo's links tune 522.000 to 572.100 MHz between them.
  assert.ok(Math.abs(Number(await page.locator('#ask-carrier').inputValue()) - 547.05) < 0.2);
});

test('the carrier of an opened link is at least 48 pixels high', async () => {
  const page = await plannedDemo();
  await page.locator('#link-5-fold > summary').click();
  const size = await page.locator('#link-5-row .digits').evaluate((one) => parseFloat(getComputedStyle(one).fontSize));
  assert.ok(size >= 48, `${size} px`);
});

test('the page can be read before any script has run', async () => {
  const page = await openPage({ javaScriptEnabled: false });
  const words = await page.locator('main').innerText();
  assert.match(words, /A clear carrier for every microphone/);
  assert.match(words, /needs scripts/);
});
