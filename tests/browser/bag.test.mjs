// The right bag by its bar codes: drawn by zint, read back by zbarimg, typed at a scanner's speed into the real page,
// through the whole match. What is not a bag's is dropped, and no byte of it stands anywhere. Chromium.
//
// The labels are invented, under an issuer number that is set aside for tests (A9999). Check characters in the flags
// are from python3-stdnum (A9999 26 000481 has I, 18; A9999 26 000491 has E, 14).

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

const number = 'A999926000481';
const labels = {
  number: `=${number}78`,
  other: '=A99992600049174',
  product: '=<E4306V00',
  half: '=<E4306VB0',
  group: '=%6200', // A, RhD positive
};
// A hospital number and a GS1 service relation number, as a wristband may carry them; both made up.
const wristbands = [
  ['CODE128', 'KX7731904455'],
  ['GS1_128', '[8018]010731904455667784'],
  ['CODE128', '&#AB10QW48213377'],
];

// Tomorrow at 13:40, as data structure 005 of ISBT 128 has it: c, year, day of the year, time.
function expiryTomorrow(now) {
  const day = new Date(now + 864e5);
  const first = new Date(day.getFullYear(), 0, 1);
  const ordinal = Math.round((new Date(day.getFullYear(), day.getMonth(), day.getDate()) - first) / 864e5) + 1;
  return `&>0${String(day.getFullYear() % 100).padStart(2, '0')}${String(ordinal).padStart(3, '0')}1340`;
}

describe('bag and tag by bar codes', { concurrency: 1 }, () => {
  let browser, folder;
  before(async () => {
    browser = await launch('chromium');
    folder = mkdtempSync(join(tmpdir(), 'hangtime-'));
  });
  after(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true });
  });

  // What a reader gets from a drawn label.
  function barCode(text, kind = 'CODE128') {
    const picture = join(folder, 'label.png');
    const drawn = ['-b', kind, '-d', text, '-o', picture, '--scale=2', '--whitesp=10', '--quietzones'];
    execFileSync('zint', drawn, { stdio: 'pipe' });
    const read = execFileSync('zbarimg', ['--quiet', '--raw', picture], { encoding: 'utf8' }).replace(/\n$/, '');
    assert.ok(read.length >= 6, 'the label was read back');
    return read;
  }

  // A scanner's keys. On a machine with much to do they may come too slowly for one: then once more.
  async function scan(page, text) {
    for (let tries = 0; tries < 8; ++tries) {
      await page.evaluate(() => {
        globalThis.keyTimes = [];
        if (globalThis.keysHeard) return;
        globalThis.keysHeard = true;
        addEventListener('keydown', event => globalThis.keyTimes.push(event.timeStamp), true);
      });
      await page.scan(text);
      const times = await page.until('every key', async () => {
        const seen = await page.evaluate(() => globalThis.keyTimes);
        return seen.length > text.length && seen;
      });
      await pause(300);
      if (Math.max(...times.slice(1).map((at, i) => at - times[i])) < 30) return;
    }
    throw new Error('the keys came too slowly for a scanner, eight times');
  }

  // All that leaves the page and all that it shows; the session's sheet with it.
  async function everything(page) {
    await page.tab.pdf({ format: 'a4' }); // fills the sheet that is printed
    const { dom, title, stored, address, live } = await page.state();
    const kept = await page.evaluate(everyRecord);
    assert.ok(kept.includes('hangtime'), 'the store is open, and was read');
    return { kept, all: [dom, title, stored, address, live, kept, ...page.console, ...page.errors].join('\n') };
  }
  function expectNone(text, secret, least = 5) {
    for (let i = 0; i + least <= secret.length; ++i)
      assert.ok(!text.includes(secret.slice(i, i + least)), `"${secret.slice(i, i + least)}" stands nowhere`);
  }

  // The answer to one question asks the next; another touch would close it.
  async function choose(page, bed, name, choice) {
    const wanted = { role: 'field', name: new RegExp(`^${name}`) };
    if (!(await page.has({ role: 'heading', name }))) {
      await page.show(wanted);
      await page.tap(wanted, { finger: true });
    }
    await bed.press(choice);
  }

  const onPage = (name, body) =>
    test(name, { timeout: 600_000 }, async () => {
      const page = await browser.open(pageAddress, { touch: true });
      try {
        await page.running();
        const bed = new Bedside(page);
        await bed.open();
        await bed.order();
        await bed.getReady();
        await bed.press('Call for the unit');
        await body(page, bed);
        expectQuiet(page);
      } finally {
        await page.close();
      }
    });

  onPage('the same bag through the whole match, and a wristband on the way that leaves nothing', async (page, bed) => {
    const expiry = expiryTomorrow(await page.evaluate(() => Date.now()));
    // The bag is here: its own label fills in the issue.
    await scan(page, barCode(labels.number));
    await page.says('Last 4 digits of the donation number: 0481');
    await scan(page, barCode(expiry));
    await bed.keys('316');
    await bed.press('The unit is issued');

    await bed.press('Groups and requirements: read bag and tag');
    for (const text of [labels.number, labels.product, labels.group, expiry]) await scan(page, barCode(text));
    await page.says('Read on the bag: expiry');
    await bed.press('The tag on the bag');
    // Whoever picks up the wrong bar code: dropped unread, said so, and nothing of it anywhere.
    for (const [kind, text] of wristbands) {
      const read = barCode(text, kind);
      await scan(page, read);
      await page.says('Not bag data, not kept.');
      const { all } = await everything(page);
      expectNone(all, read);
    }
    for (const text of [labels.number, labels.product, labels.group, expiry]) await scan(page, barCode(text));
    await page.says('Bag and tag say the same');
    await page.says('Donation number: the same');
    const confirm = { role: 'button', name: /^The label says so:/ };
    await page.show(confirm);
    await bed.press(confirm.name);
    await page.says('Confirmed against the label.');

    await page.says('Cannot tell: do not hang it yet');
    await choose(page, bed, "Recipient's group on the tag", 'A, RhD positive');
    await choose(page, bed, 'Under four months', 'no');
    await choose(page, bed, 'After a stem-cell transplant', 'no');
    await choose(page, bed, 'Special requirements', 'none on the order or tag');
    await page.says('The same group.');
    await page.show({ role: 'button', name: 'Note this answer' });
    await bed.press('Note this answer');

    await bed.match();
    await page.until('the bag to be allowed to hang', () => page.has({ role: 'button', name: 'The bag is spiked and hangs' }));
    const { kept, all } = await everything(page);
    expectNone(all, number);
    expectNone(all, 'E4306V00');
    for (const [, text] of wristbands) expectNone(all, text.replace(/^\[8018\]/, ''));
    assert.match(kept, /groups_judged/);
    assert.match(kept, /identical/);
    assert.ok(kept.includes('0481') && all.includes('0481'), 'its last four are kept');
    // On paper the same.
    const paper = join(folder, 'sheet.pdf');
    writeFileSync(paper, await page.tab.pdf({ format: 'a4' }));
    const words = execFileSync('pdftotext', ['-layout', paper, '-'], { encoding: 'utf8' });
    assert.match(words, /0481/);
    assert.match(words, /Groups and requirements/);
    expectNone(words.replaceAll(' ', ''), number);
  });

  onPage('one character that differs is shown at its place, and the bag does not hang', async (page, bed) => {
    await scan(page, barCode(labels.number));
    await bed.keys('316');
    await bed.press('a week or more away');
    await bed.press('The unit is issued');
    await bed.press('Groups and requirements: read bag and tag');
    for (const text of [labels.number, labels.product]) await scan(page, barCode(text));
    await bed.press('The tag on the bag');
    for (const text of [labels.other, labels.product]) await scan(page, barCode(text));
    await page.says('differs at character 12: bag 8, tag 9');
    await page.says('Do not give this unit.');
    for (const name of [/^The label says so/, "The laboratory's instruction is followed", 'Note this answer'])
      assert.ok(!(await page.has({ role: 'button', name })), `${name} is not offered`);
    await bed.press('Back to the session');
    assert.ok(!(await page.has({ role: 'button', name: 'It is the same' })), 'nothing leads on');
    await bed.press('Close this unit');
    await page.until('the unit to be closed', async () =>
      (await page.evaluate(everyRecord)).includes('differed'),
    );
    const hang = (await page.nodes()).filter(node => node.name === 'The bag is spiked and hangs');
    assert.ok(hang.every(node => node.disabled), 'it cannot hang any more');
    const { all } = await everything(page);
    expectNone(all, number);
    expectNone(all, 'A999926000491');
  });

  onPage('the other half of a split bag differs in its division alone', async (page, bed) => {
    await scan(page, barCode(labels.number));
    await bed.keys('158');
    await bed.press('a week or more away');
    await bed.press('The unit is issued');
    await bed.press('Groups and requirements: read bag and tag');
    for (const text of [labels.number, labels.product]) await scan(page, barCode(text));
    await bed.press('The tag on the bag');
    for (const text of [labels.number, labels.half]) await scan(page, barCode(text));
    await page.says('differs at character 7: bag 0, tag B');
    await page.says('Do not give this unit.');
  });
});
