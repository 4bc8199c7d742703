// What is asked of one engine only: accessibility, rest, what stands instead of the picture.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { after, before, it } from 'node:test';
import { launch } from './drive/puppeteer.mjs';
import { address, enterByTaps, hasAnswers, zone } from './drive/steps.mjs';

const axe = readFileSync(new URL('./node_modules/axe-core/axe.min.js', import.meta.url), 'utf8');
let browser;
before(async () => { browser = await launch('chromium', { zone }); });
after(() => browser?.close());
const limit = { timeout: 30_000 };

it('axe-core finds nothing with the four entries', limit, async () => {
  const page = await browser.open(address);
  await page.running();
  await enterByTaps(page);
  await hasAnswers(page);
  await page.tab.evaluate(axe);
  const { found, passed } = await page.evaluate(() => axe.run().then(({ violations, passes }) => ({
    found: violations.map(({ id, nodes }) => `${id}: ${nodes[0].html.slice(0, 120)}`), passed: passes.length })));
  assert.deepEqual(found, []);
  assert.ok(passed > 5, `${passed} rules had something to look at`);
  await page.close();
});

for (const [what, init] of [['WebAssembly', () => { delete globalThis.WebAssembly; }],
  ['a 2D canvas', () => { HTMLCanvasElement.prototype.getContext = () => null; }]]) {
  it(`without ${what} it says so`, limit, async () => {
    const page = await browser.open(address, { init });
    await page.until('the text', async () => (await page.state()).shown.includes('unable'));
    assert.deepEqual((await page.state()).shown, ['unable']);
    await page.close();
  });
}

it('asks for no frame while nothing changes', limit, async () => {
  const page = await browser.open(address, { init: () => {
    const real = requestAnimationFrame;
    window.asked = 0;
    window.requestAnimationFrame = then => { window.asked += 1; return real(then); };
  } });
  await page.running();
  await enterByTaps(page);
  await hasAnswers(page);
  // The clock of the page shows minutes: three seconds that lie within one.
  await page.until('the beginning of three quiet seconds', () => new Date().getSeconds() < 55, 8000);
  const { start, from } = await page.evaluate(() => new Promise(done =>
    setTimeout(() => done({ start: window.asked, from: performance.now() }), 300)));
  assert.ok(start > 5, 'frames while it was tapped');
  await page.until('three seconds', () => page.evaluate(at => performance.now() > at + 3000, from));
  assert.equal(await page.evaluate(() => window.asked), start);
  await page.close();
});
