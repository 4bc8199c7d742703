// One whole transfusion in each engine, by taps on the real page, with a reload half-way; and what is printed of it.

import assert from 'node:assert/strict';
import { after, before, describe, test } from 'node:test';
import { Bedside } from './drive/bedside.mjs';
import { launch, pageAddress } from './drive/index.mjs';
import { expectQuiet } from './drive/expect.mjs';

for (const engine of ['chromium', 'firefox', 'webkit']) {
  describe(`a session in ${engine}`, { concurrency: 1 }, () => {
    let browser;
    before(async () => {
      browser = await launch(engine);
    });
    after(async () => {
      await browser?.close();
    });

    test('one whole transfusion, with a reload half-way', { timeout: 400_000 }, async () => {
      const page = await browser.open(pageAddress);
      try {
        await page.running();
        const bed = new Bedside(page);
        await bed.open();
        await bed.order();
        await bed.getReady();
        await bed.callAndIssue();
        await page.says(/^This is: anchor, bag 4821/);
        await bed.match();
        await bed.hang();
        await bed.start();
        await bed.press('Observations at the start');
        await bed.pass(15);
        await bed.press('Early check');
        await bed.press(/^Raise the rate to 174 mL\/h/);
        await bed.press('Change the rate');
        await page.find({ role: 'button', name: /^Runs now: 174 mL\/h/ });
        await page.says(/^Kept: Saved/);
        const allIn = (await page.find({ role: 'button', name: /^All in, expected/ })).name;

        await page.reload();
        await page.running();
        await bed.pass(0);
        await bed.press('1 session');
        await bed.press(/^anchor, bag ends in 4821/);
        await page.find({ role: 'button', name: /^Runs now: 174 mL\/h/ });
        assert.equal((await page.find({ role: 'button', name: /^All in, expected/ })).name, allIn);
        await page.says(/^Kept: Saved/);

        await bed.pass(45);
        await bed.press('Observations');
        await bed.pass(55);
        for (const name of ['The bag is empty', 'Clear the line']) await bed.press(name);
        await bed.pass(10);
        await bed.press('All is in');
        await page.says(/^(All in|Stopped) at /);
        expectQuiet(page);
      } finally {
        await page.close();
      }
    });
  });
}
