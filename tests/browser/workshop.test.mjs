// The protocol workshop on the real page: a rule is changed by taps, and a copy of the page with the new rules inside is
// saved, opened from disk and used, in each engine.

import assert from 'node:assert/strict';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { after, before, describe, test } from 'node:test';
import { Bedside } from './drive/bedside.mjs';
import { launch, pageAddress, pageFile } from './drive/index.mjs';
import { expectQuiet } from './drive/expect.mjs';

// What the page offers for saving, in place of where the browser would put it.
const catchFiles = page =>
  page.evaluate(() => {
    globalThis.offered = [];
    URL.createObjectURL = blob => {
      const file = { type: blob.type, text: null };
      blob.text().then(text => { file.text = text; });
      globalThis.offered.push(file);
      return 'about:blank';
    };
    HTMLAnchorElement.prototype.click = function () { globalThis.offered.at(-1).name = this.download; };
  });
const offered = (page, n = 0) =>
  page.until('a file to be offered', async () => {
    const file = await page.evaluate(n => globalThis.offered[n] ?? null, n);
    return file?.text && file;
  });

const policy = text => text.match(/Content-Security-Policy" content="([^"]*)"/)[1];
const script = text => text.match(/<script>([^]*?)<\/script>/)[1];
const inside = text => JSON.parse(text.match(/id="protocols">([^]*?)<\/script>/)[1]);

async function workshop(page) {
  const hands = new Bedside(page);
  await hands.press(/^(Sessions|\d+ sessions?)$/);
  await page.until('the sessions', async () => !(await page.has({ role: 'button', name: /^(Sessions|\d+ sessions?)$/ })));
  const more = { role: 'button', name: /^More: / };
  await page.show(more);
  await hands.press(/^More: /);
  await hands.press(/^Local rules/);
  return hands;
}

for (const engine of ['chromium', 'firefox', 'webkit']) {
  describe(`the workshop in ${engine}`, { concurrency: 1 }, () => {
    let browser, folder;
    before(async () => {
      browser = await launch(engine);
      folder = mkdtempSync(join(tmpdir(), 'hangtime-'));
    });
    after(async () => {
      await browser?.close();
      rmSync(folder, { recursive: true });
    });

    test('a copy of the page works by the rules that were made in it', { timeout: 600_000 }, async () => {
      let page = await browser.open(pageAddress);
      let copy;
      try {
        await page.running();
        await catchFiles(page);
        const hands = await workshop(page);
        await hands.press(/^General ward, common practice, revised/);
        await hands.press(/^Name and standing: /);
        await page.tap({ role: 'field', name: 'Called' });
        await hands.press('Surgical ward');
        await page.tap({ role: 'field', name: /^Its number/ });
        await hands.keys('12');
        await page.tap({ role: 'field', name: /^Revised/ });
        await hands.keys('20261125');
        await page.tap({ role: 'field', name: 'Standing' });
        await hands.press('Adopted by the ward');
        await hands.press('Take it');
        await hands.press('Red cells');
        await page.show({ role: 'button', name: /^All in by, counted from issue: / });
        await hands.press(/^All in by, counted from issue: /);
        await page.tap({ role: 'field', name: 'Within' });
        await hands.keys('210');
        await hands.press('Take it');
        await hands.press('What changes');
        await page.says(/of 12 cases come out differently/);
        await hands.press('Keep it');
        await hands.press('Save a copy of this page with these rules');
        const file = await offered(page);
        assert.equal(file.name, 'hangtime-surgical-ward-12.html');
        assert.equal(file.type, 'text/html');
        copy = file.text;
        expectQuiet(page);
      } finally {
        await page.close();
      }

      // The same page but for the rules: same policy, same script, nothing of what was shown in it.
      const original = readFileSync(pageFile, 'utf8');
      assert.equal(policy(copy), policy(original));
      assert.equal(script(copy), script(original));
      assert.ok(Math.abs(copy.length - original.length) < 30_000);
      assert.doesNotMatch(copy, /Save a copy|Take it|class="sheet"|class="night"/);
      const [rules, ...others] = inside(copy);
      assert.deepEqual(others, []);
      assert.equal(rules.title, 'Surgical ward 12');
      assert.equal(rules.components.red_cells.limits.find(l => l.kind === 'finish').within_min, 210);

      const path = join(folder, 'hangtime-surgical-ward-12.html');
      writeFileSync(path, copy);
      page = await browser.open(String(pathToFileURL(path)));
      try {
        await page.running();
        await page.find({ role: 'field', name: 'Rules', value: /^Surgical ward 12/ });
        await page.says(/Rules: Surgical ward 12, revised 2026-11-25/);
        assert.ok(!(await page.nodes()).some(node => /example/i.test(node.name + node.value)), 'adopted rules are no example');
        // A copy of the copy is the same file.
        await catchFiles(page);
        const hands = await workshop(page);
        await hands.press(/^Surgical ward 12, revised 2026-11-25/);
        await hands.press('Keep it');
        await hands.press('Save a copy of this page with these rules');
        const again = (await offered(page)).text;
        assert.deepEqual(inside(again), inside(copy));
        assert.equal(again, copy);
        expectQuiet(page);
        // Last, because what is refused is refused aloud.
        assert.equal(await page.evaluate(() => {
          const probe = document.createElement('script');
          probe.textContent = 'globalThis.ran = true';
          document.body.append(probe);
          return globalThis.ran === true;
        }), false, 'the policy holds in the copy');
      } finally {
        await page.close();
      }
    });
  });
}
