// A classroom on one file: the educator changes a case in the form and gives it out with its number, two learners play it
// to the debrief at high speed, and the educator's page says what their saved results come to. Nobody is named by it.

import assert from 'node:assert/strict';
import { after, before, describe, test } from 'node:test';
import { Bedside } from './drive/bedside.mjs';
import { catchFiles, saved, willChoose } from './drive/files.mjs';
import { launch, pageAddress } from './drive/index.mjs';
import { expectQuiet } from './drive/expect.mjs';

const button = name => ({ role: 'button', name });

for (const engine of ['chromium']) {
  describe(`a classroom in ${engine}`, { concurrency: 1 }, () => {
    let browser;
    before(async () => {
      browser = await launch(engine);
    });
    after(async () => {
      await browser?.close();
    });

    // Each on a machine of their own.
    const at = async (door, work) => {
      const page = await browser.open(pageAddress);
      try {
        await page.running();
        await catchFiles(page);
        const hands = new Bedside(page);
        await hands.press(/^(Sessions|\d+ sessions?)$/);
        await page.find(button(/^More: /));
        await page.show(button(/^More: /));
        await hands.press(/^More: /);
        await hands.press(door);
        const out = await work(page, hands);
        expectQuiet(page);
        return out;
      } finally {
        await page.close();
      }
    };
    const toRehearse = work =>
      at(/^Rehearse/, async (page, hands) => {
        await page.until('the right to write', async () =>
          (await page.nodes()).some(node => node.name === 'Case number ...' && !node.disabled),
        );
        assert.ok(!(await page.has({ role: 'text', name: /^Not read/ })), 'all rehearsals of the page can be read');
        return work(page, hands);
      });
    const lastSaved = async page => (await saved(page)).at(-1);

    // The educator's file and its case number, by which everybody gets the same.
    const prepare = () =>
      toRehearse(async (page, hands) => {
        await hands.press(/^1 {2}/);
        await hands.press('Change it ...');
        await page.tap({ role: 'field', name: 'Number' });
        await hands.keys('42');
        await page.tap({ role: 'field', name: /^Bag: red cells/ });
        await hands.keys('280');
        await page.says('Checked: it can be played.');
        // What cannot be played is neither begun nor given out.
        await page.tap({ role: 'field', name: /^Bag: red cells/ });
        await hands.keys('5');
        await page.says(/^It cannot be played/);
        assert.ok((await page.find(button('Save as a file'))).disabled);
        await page.tap({ role: 'field', name: /^Bag: red cells/ });
        await hands.keys('280');
        await page.says('Checked: it can be played.');
        await hands.press('Save as a file');
        const file = await lastSaved(page);
        assert.equal(file.name, 'hangtime-rehearsal-first-bag.json');
        const scenario = JSON.parse(file.text);
        assert.equal(scenario.number, 42);
        await hands.press('Rehearse');
        await willChoose(page, [file]);
        await hands.press('Open a rehearsal, a log or a saved result');
        const number = (await page.says(/Case number 42\d+\./)).name.match(/Case number (\d+)\./)[1];
        assert.equal(number, String(42_000 + scenario.seed));
        return { file, number };
      });

    const begin = async (page, hands, { file, number }) => {
      await willChoose(page, [file]);
      await hands.press('Open a rehearsal, a log or a saved result');
      await page.says(/Case number 42\d+\./);
      await hands.press('Case number ...');
      await hands.keys(number);
      await hands.press('Begin this case');
      await page.says(new RegExp(`^Case ${number}\\.`));
      await hands.press('Call for the unit');
      await hands.press('240\u00d7');
      const bag = (await page.says(/^A bag is brought/)).name.match(/ (\d+) mL/)[1];
      await hands.press('Go on');
      return Number(bag);
    };
    const result = async (page, hands, number) => {
      const said = (await page.says(/\d+ of 13 points$/)).name;
      await hands.press('Save the result as a file');
      const file = await lastSaved(page);
      assert.equal(file.name, `hangtime-result-${number}.json`);
      assert.match(said, new RegExp(`${JSON.parse(file.text).points} of 13 points$`));
      return file;
    };

    test('an educator prepares, learners run it to the debrief, and the class is summarised', { timeout: 600_000 }, async () => {
      const given = await prepare();
      const bags = [];

      // One hangs it, and then does nothing more; the other gives up when the bag has come.
      const one = await toRehearse(async (page, hands) => {
        bags.push(await begin(page, hands, given));
        await hands.press('Match');
        await hands.match();
        await hands.hang();
        await hands.start();
        await hands.press('240\u00d7');
        await hands.passUntil('the end of its time', () => page.has(button('To the end of it')));
        await hands.press('To the end of it');
        return result(page, hands, given.number);
      });
      const other = await toRehearse(async (page, hands) => {
        bags.push(await begin(page, hands, given));
        await hands.press('Menu of the rehearsal');
        await hands.press('End it, and see what came of it');
        return result(page, hands, given.number);
      });
      const { vary_ml: vary } = JSON.parse(given.file.text).happens[0];
      assert.equal(bags[0], bags[1], 'the same case for everybody');
      assert.ok(Math.abs(bags[0] - 280) <= vary, `${bags[0]} mL`);
      const results = [one, other].map(file => JSON.parse(file.text));
      assert.notEqual(results[0].points, results[1].points);
      for (const r of results) assert.equal(r.case_number, Number(given.number));

      await at(/^A class/, async (page, hands) => {
        const files = [one, other, one].map(({ text }, i) => ({ name: `A. Learner ${i}.json`, text }));
        files.push({ name: 'A. Learner 3.json', text: one.text.replace('"note"', '"name"') });
        await willChoose(page, files);
        await hands.press('Choose result files');
        await page.says('first-bag, general-ward: 3 attempts');
        const [most, least] = results.map(r => r.points).sort((a, b) => b - a);
        await page.says(new RegExp(`^Points ${least} to ${most} of 13, `));
        for (let i = 0; i < results[0].parts.length; ++i) {
          const met = 2 * results[0].parts[i].met + results[1].parts[i].met;
          const { item } = results[0].parts[i];
          assert.ok((await page.nodes()).some(node => node.name === `${item}: ${met} of 3`), `${item}: ${met} of 3`);
        }
        await page.says(/^file 4: name/);
        const all = (await page.nodes()).map(node => node.name).join('\n');
        assert.doesNotMatch(all, /Learner/);
        assert.match(await page.evaluate(() => document.title), /a class/);
        await hands.press(/^Save as a table/);
        const table = await lastSaved(page);
        assert.equal(table.text.trim().split('\r\n').length, 1 + results[0].parts.length);
        assert.doesNotMatch(table.text, /Learner/);
      });
    });
  });
}
