// A class in each engine: an educator reads a case number from the list, a learner enters it on another page, plays it
// at high speed to the debrief, with a reload half-way, and the result goes into a file. Nothing of it lands among the real sessions.

import assert from 'node:assert/strict';
import { after, before, describe, test } from 'node:test';
import { Bedside } from './drive/bedside.mjs';
import { catchFiles, saved } from './drive/files.mjs';
import { launch, pageAddress } from './drive/index.mjs';
import { expectPalette, expectQuiet } from './drive/expect.mjs';

const practice = { ground: '#DAD3EE', ink: '#1B262C' };
const button = name => ({ role: 'button', name });

async function toList(bed) {
  await bed.press(/^(Sessions|\d+ sessions?)$/);
  await bed.press(/^More: /);
  await bed.press(/^Rehearse/);
  await bed.page.find(button('Case number ...'));
  await bed.page.until('the right to write', async () =>
    (await bed.page.nodes()).some(node => node.name === 'Case number ...' && !node.disabled),
  );
}

for (const engine of ['chromium', 'firefox', 'webkit']) {
  describe(`a rehearsal in ${engine}`, { concurrency: 1 }, () => {
    let browser;
    before(async () => {
      browser = await launch(engine);
    });
    after(async () => {
      await browser?.close();
    });

    test('an educator prepares, a learner runs it to the debrief, with a reload half-way', { timeout: 400_000 }, async () => {
      const educator = await browser.open(pageAddress);
      let number;
      try {
        await educator.running();
        const at = new Bedside(educator);
        await toList(at);
        await at.press(/^1 {2}/);
        number = (await educator.says(/Case number \d+\./)).name.match(/Case number (\d+)\./)[1];
        assert.equal(number, '1001');
      } finally {
        await educator.close();
      }

      const page = await browser.open(pageAddress);
      try {
        await page.running();
        await catchFiles(page);
        const bed = new Bedside(page);
        await toList(bed);
        await bed.press('Case number ...');
        await bed.keys(number);
        await bed.press('Begin this case');
        await page.says(/^Rehearsal/);
        assert.match(await page.evaluate(() => document.title), /^Rehearsal/);
        expectPalette(await page.screenshot(), practice);

        // The bag comes by itself, at 240 times the real clock.
        await bed.press('Call for the unit');
        await bed.press('240\u00d7');
        await page.says(/^A bag is brought/);
        await bed.press('Go on');
        await page.says(/^The tag: A999/);
        await bed.press('Match');
        await bed.match();
        await bed.hang();
        await bed.start();
        await bed.press('Observations at the start');
        await page.says(/^You see: temperature/);
        await bed.press('Copy what is seen');
        await bed.press('Note these observations');

        // Loaded again half-way: it goes on where it was left, and stands until somebody lets it run.
        await bed.press('Pause');
        const clock = async () => (await page.says(/^Simulated clock: /)).name;
        const left = await clock();
        assert.match(left, /stands still$/);
        await page.reload();
        await page.running();
        await catchFiles(page);
        await toList(bed);
        await page.says(/case 1001, was under way/);
        await bed.press('Go on with it');
        await bed.press('To the bedside');
        assert.equal(await clock(), left);
        await page.find({ role: 'button', name: /^Runs now: 50 mL\/h/ });

        // Nothing more is done: it runs out by itself, and that is what the debrief says.
        await bed.press('240\u00d7');
        await bed.passUntil('the end of its time', () => page.has(button('To the end of it')));
        await bed.press('To the end of it');
        const said = (await page.says(/\d+ of 13 points$/)).name;
        await bed.press('Save the result as a file');
        const files = await saved(page);
        assert.equal(files.length, 1);
        assert.equal(files[0].name, 'hangtime-result-1001.json');
        const result = JSON.parse(files[0].text);
        assert.equal(result.hangtime_debrief, 1);
        assert.equal(result.rehearsal, true);
        assert.equal(result.case_number, 1001);
        assert.match(said, new RegExp(`${result.points} of ${result.most} points$`));
        assert.equal(result.points, result.parts.reduce((sum, part) => sum + part.points, 0));
        assert.ok(result.points < result.most, 'a missed check costs something');
        const early = result.parts.find(part => /^Early check/.test(part.item));
        assert.equal(early.met, false);

        // Nothing of it is among the real ones.
        await bed.press('Results');
        await bed.press('Rehearse');
        await bed.press('More');
        await bed.press('Sessions');
        await page.says(/^No session is on this machine/);
        assert.doesNotMatch(await page.evaluate(() => document.title), /ehears/);
        expectQuiet(page);
      } finally {
        await page.close();
      }
    });
  });
}
