// A reaction from the first symptom to the printed report, by touch alone, on the real page in Chromium; what is printed
// is read back by Poppler.

import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, describe, test } from 'node:test';
import { Bedside } from './drive/bedside.mjs';
import { expectQuiet } from './drive/expect.mjs';
import { everyRecord } from './drive/in_page.mjs';
import { launch, pageAddress, pause } from './drive/index.mjs';

const button = name => ({ role: 'button', name });

describe('a reaction by touch alone', { concurrency: 1 }, () => {
  let browser, folder;
  before(async () => {
    browser = await launch('chromium');
    folder = mkdtempSync(join(tmpdir(), 'hangtime-'));
  });
  after(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true });
  });

  // No key goes down and no mouse moves: whatever else is used in here fails.
  function onlyTouch(page) {
    for (const never of ['press', 'pressAll', 'type', 'scan', 'key', 'chord', 'wheel'])
      page[never] = () => {
        throw new Error(`${never} is no touch`);
      };
  }

  // A finger drags until its middle stands well inside the window.
  async function show(page, wanted) {
    for (let drags = 0; drags < 40; ++drags) {
      const node = await page.find(wanted);
      const { width, height } = await page.state();
      const y = node.box.y + node.box.height / 2;
      if (y > height * 0.3 && y < height * 0.74) return;
      const by = y < height * 0.3 ? height / 6 : -height / 6;
      const x = Math.min(width - 12, Math.max(12, node.box.x + 6)); // beside the words, so that nothing is pressed
      const finger = await page.tab.touchscreen.touchStart(x, height / 2);
      for (let step = 1; step <= 6; ++step) {
        await finger.move(x, height / 2 + (by * step) / 6);
        await pause(20);
      }
      await finger.end();
      await pause(120);
      if ((await page.find(wanted)).box.y === node.box.y && y > 8 && y < height - 8) return; // at an end
    }
    throw new Error(`${wanted.name} cannot be brought into sight`);
  }

  async function tap(page, wanted) {
    await show(page, wanted);
    await page.tap(wanted, { finger: true });
    await pause(480);
  }

  // One pass of the entry: numbers on the drawn keys, then choices, then symptoms.
  async function observe(page, numbers, choices, symptoms) {
    for (const digits of numbers) {
      await page.find(button('Clear the entry'));
      for (const sign of digits) await page.tap(button(sign === '.' ? 'point' : sign), { finger: true });
      await page.tap(button('Next'), { finger: true });
      await pause(80);
    }
    for (const choice of choices) {
      await page.tap(button(choice), { finger: true });
      await pause(80);
    }
    if (symptoms.length === 0) await page.tap(button('None of these'), { finger: true });
    for (const symptom of symptoms) await tap(page, button(symptom));
    if (symptoms.length > 0) await page.tap(button('Next'), { finger: true });
    await pause(80);
    await page.tap(button('Note these observations'), { finger: true });
    await pause(480);
    if (await page.has(button('Yes, note it like this'))) await tap(page, button('Yes, note it like this'));
  }
  const well = ['air', 'alert', 'clear', 'as it should be', 'as usual'];

  function words(name, pdf) {
    const file = join(folder, name);
    writeFileSync(file, pdf);
    return execFileSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' }).replace(/\s+/g, ' ');
  }

  test('from the first symptom to the printed report', { timeout: 900_000 }, async () => {
    const page = await browser.open(pageAddress, { touch: true });
    try {
      await page.running();
      onlyTouch(page);
      const bed = new Bedside(page);
      await bed.open();
      await bed.order();
      // Ready, with the values of the baseline: what changes is held against them.
      await bed.press('Authorisation to transfuse');
      await bed.keys('1');
      await bed.press('Authorisation to transfuse');
      for (const name of ['Valid sample: confirm', 'Consent: confirm']) await bed.press(name);
      await bed.press('With the values ...');
      await observe(page, ['36.8', '78', '124', '72', '16', '97'], well, []);
      await bed.press('Describe the person');
      await bed.press('no');
      await bed.press('yes');
      await bed.press('Describe the person');
      for (const name of ['Premedication', 'Venous access', 'Set and saline']) await bed.press(`${name}: confirm`);
      for (const name of ['Second checker', 'nurse', 'Second checker']) await bed.press(name);
      await bed.callAndIssue();
      await bed.match();
      await bed.hang();
      await bed.start();

      // The first symptom, twenty minutes on.
      await bed.pass(20);
      await bed.press(/^(Observations at the start|Early check)/);
      if (await page.has(button(/^Early check/))) await bed.press(/^Early check/);
      await tap(page, button('Run'));
      await tap(page, button('Observations between the checks ...'));
      await observe(page, ['38.4', '104', '118', '70', '22', '96'], well, ['Chills, shivering']);
      await page.says('Hold, and ask');
      await page.says('New symptom');
      await tap(page, button('Suspect a reaction: stop now'));
      await page.says(/^Stopped at \d\d:\d\d/);

      // The list, in another order than it stands in.
      await bed.pass(2);
      await tap(page, button(/^Call the responsible clinician/));
      await tap(page, button('All agree'));
      await page.until('the check of identity with its result', async () =>
        (await page.nodes()).some(node => /all agree/.test(`${node.name} ${node.value}`)),
      );
      await tap(page, button('Enter the observations'));
      await observe(page, ['38.6', '110', '112', '66', '24', '95'], well, ['Chills, shivering']);
      await bed.pass(3);
      for (const name of [/^Keep the vein open through a new set/, /^Keep the bag and the set/]) await tap(page, button(name));

      await page.evaluate(() => (globalThis.print = () => {})); // the browser's own dialog; it is printed below
      await tap(page, button('Print the report'));
      const report = words('report.pdf', await page.tab.pdf({ format: 'a4' }));
      for (const wanted of [
        'Report of a suspected reaction',
        'Stopped at',
        'Red cells',
        '4821',
        'all agree',
        'Given until then',
        'Fever',
        'Chills, shivering',
        'Each sign against its baseline',
        '38.6',
        '36.8',
        'It is not a medical device, not an alarm and not a record.',
      ])
        assert.ok(report.includes(wanted), `"${wanted}" in the report: ${report}`);
      assert.match(report, /50 mL\/h/, 'the rate until the stop');
      for (const never of ['adrenaline', 'antihistamine', 'paracetamol', ' mg '])
        assert.ok(!report.toLowerCase().includes(never), `no ${never}`);
      assert.doesNotMatch(report.split('Sources')[0], /\b20\d\d-\d\d-\d\d\b/, 'no date');
      // The picture is drawn in lines, not told in words alone.
      const shapes = await page.evaluate(() => document.querySelectorAll('#print svg line, #print svg rect').length);
      assert.ok(shapes > 20, `${shapes} lines in the picture`);

      await tap(page, button('Print the slip about late symptoms'));
      const slip = words('slip.pdf', await page.tab.pdf({ format: 'a4' }));
      assert.match(slip, /After your transfusion/);
      assert.ok(!slip.includes('4821'), 'nothing on the slip says whose it is');

      const kept = await page.evaluate(everyRecord);
      assert.match(kept, /reaction_suspected/);
      assert.match(kept, /\\"agrees\\": ?true/);
      expectQuiet(page);
    } finally {
      await page.close();
    }
  });
});
