// The sheet on paper, printed by Chromium and read back by Poppler: what a nurse needs is on it, nothing is
// cut off, and there is room for a pen.

import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, describe, test } from 'node:test';
import { closed, enterByTaps, expectWorkedCase, tapKeys } from './drive/entries.mjs';
import { launch, pageAddress } from './drive/index.mjs';

// Points: ISO 216 A4 is 210 x 297 mm, Letter 8.5 x 11 inches.
const papers = { a4: [595.3, 841.9], letter: [612, 792] };

describe('the sheet on paper', { concurrency: 1 }, () => {
  let browser, folder;
  before(async () => {
    browser = await launch('chromium');
    folder = mkdtempSync(join(tmpdir(), 'hangtime-'));
  });
  after(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true });
  });

  const onPage = (name, body) =>
    test(name, { timeout: 600_000 }, async () => {
      const page = await browser.open(pageAddress);
      try {
        await page.running();
        await body(page);
      } finally {
        await page.close();
      }
    });

  // { pages: [{ width, height, words: [{ text, left, top, right, bottom }] }], text }
  async function printed(page, format) {
    const file = join(folder, `${format}.pdf`);
    writeFileSync(file, await page.tab.pdf({ format }));
    const read = (...how) => execFileSync('pdftotext', [...how, file, '-'], { encoding: 'utf8' });
    const number = (line, name) => Number(line.match(`${name}="([\\d.]+)"`)[1]);
    const pages = read('-bbox')
      .split('<page ')
      .slice(1)
      .map(part => ({
        width: number(part, 'width'),
        height: number(part, 'height'),
        words: [...part.matchAll(/<word ([^>]*)>([^<]*)</g)].map(([, box, text]) => ({
          text: text
            .replaceAll('&lt;', '<')
            .replaceAll('&gt;', '>')
            .replaceAll('&quot;', '"')
            .replaceAll('&amp;', '&'),
          left: number(box, 'xMin'),
          top: number(box, 'yMin'),
          right: number(box, 'xMax'),
          bottom: number(box, 'yMax'),
        })),
      }));
    return { file, pages, layout: read('-layout') };
  }

  function expectWhole({ pages }, format) {
    for (const [i, { width, height, words }] of pages.entries()) {
      assert.ok(
        Math.abs(width - papers[format][0]) < 1.5 && Math.abs(height - papers[format][1]) < 1.5,
        `${width} x ${height}`,
      );
      assert.ok(words.length > 10, `page ${i + 1} is not almost empty`);
      for (const { text, left, top, right, bottom } of words) {
        // The smallest print is 9 points x 0.88 on a line of 1.3; a sheet too wide would be made smaller to
        // fit.
        assert.ok(
          bottom - top > 12,
          `${text} on page ${i + 1} is large enough to read: ${bottom - top} points`,
        );
        assert.ok(
          left > 15 && top > 15 && right < width - 15 && bottom < height - 15,
          `${text} on page ${i + 1} is inside the margins`,
        );
      }
    }
  }

  for (const format of Object.keys(papers)) {
    onPage(`the worked case on ${format}`, async page => {
      await enterByTaps(page);
      await expectWorkedCase(page);
      const sheet = await printed(page, format);
      assert.equal(sheet.pages.length, 2, 'the working page, and how it was worked out');
      expectWhole(sheet, format);
      const [first, second] = sheet.pages.map(({ words }) => words.map(({ text }) => text).join(' '));
      for (const wanted of [
        'Red cells, 316 mL',
        'Fits. All in at 15:51:40',
        '14:10 at the latest',
        '17:40 at the latest',
        '13:52, set 50 mL/h',
        '14:07, set 174 mL/h',
        'Done at',
        'Void after 17:40',
        'General ward, common practice',
        'It is not a medical device, not an alarm and not a record.',
        'No ward has adopted them',
        'Your local policy, the label on the bag and your own licensed practice come first.',
        '15:44:46',
        '16:51:40',
      ])
        assert.ok(first.includes(wanted), `"${wanted}" on the first page`);
      assert.match(second, /How it was worked out/);
      assert.match(second, /316 mL - 12\.5 mL\) in 1 h 45 min = 173\.43 mL\/h, set 174 mL\/h/);

      // Each word of the sheet arrived on the paper: nothing is cut off or hidden.
      const words = await page.evaluate(() => {
        const found = [];
        const walk = document.createTreeWalker(document.getElementById('print'), NodeFilter.SHOW_TEXT);
        while (walk.nextNode()) found.push(...walk.currentNode.data.split(/\s+/));
        return found.filter(word => word);
      });
      assert.ok(words.length > 200, `the sheet has ${words.length} words`);
      const there = sheet.pages
        .flatMap(page => page.words.map(({ text }) => text))
        .join('')
        .replaceAll('-', '');
      for (const word of words)
        assert.ok(there.includes(word.replaceAll('-', '')), `"${word}" is on the paper`);

      // No date, in whichever form. Years of sources are all that may look like one.
      const now = await page.evaluate(() =>
        [0, 1]
          .map(days => {
            const at = new Date(Date.now() + days * 864e5);
            return [
              at.toISOString().slice(0, 10),
              at.toLocaleDateString(),
              at.toDateString(),
              at.getFullYear().toString(),
            ];
          })
          .flat(),
      );
      // The rules' own date, a month, is no day of anybody's.
      const undated = sheet.layout.replace(/revised\s+\d{4}-\d\d(?!-)/g, 'revised');
      for (const date of now) assert.ok(!undated.includes(date), `no date: ${date}`);
      assert.doesNotMatch(sheet.layout, /\b\d{1,2}[-. /](Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)/);
      assert.doesNotMatch(sheet.layout, /\b\d{4}-\d\d-\d\d\b/);

      // Room for a pen: a "Done at" for each thing to do, with nothing in it, wide and high enough to write a
      // time.
      const head = sheet.pages[0].words.find(
        ({ text }, i, all) => text === 'Done' && all[i + 1].text === 'at',
      );
      const next = sheet.pages[0].words.find(({ text }) => text === 'Charted');
      const end = sheet.pages[0].words.find(({ text, top }) => text === 'Rates,' && top > head.bottom).top;
      const inside = sheet.pages[0].words.filter(
        ({ left, right, top, bottom }) =>
          right > head.left && left < next.left && top > head.bottom && bottom < end,
      );
      assert.deepEqual(
        inside.map(({ text }) => text),
        [],
        'nothing stands under "Done at"',
      );
      assert.ok(next.left - head.left > 45, `${next.left - head.left} points are wide enough for "15:51"`);
      await page.tab.emulateMediaType('print');
      const cells = await page.evaluate(() =>
        [...document.querySelectorAll('#print td.pen')].map(cell => [
          cell.textContent.trim(),
          cell.getBoundingClientRect().height,
        ]),
      );
      assert.equal(cells.length, 10, 'one for each of the ten things to do');
      for (const [text, height] of cells) {
        assert.equal(text, '');
        assert.ok(height >= 18, `${height} px high`);
      }
    });
  }

  onPage('at night it is printed black on white all the same', async page => {
    await enterByTaps(page);
    await page.tap({ role: 'button', name: 'Night colours' });
    await page.find({ role: 'button', name: 'Day colours' });
    const { file } = await printed(page, 'a4');
    const picture = execFileSync('pdftoppm', ['-r', '40', '-gray', '-f', '1', '-l', '1', file], {
      maxBuffer: 1e8,
    });
    const head = picture.toString('latin1', 0, 30).match(/^P5\s+(\d+)\s+(\d+)\s+255\s/);
    const pixels = picture.subarray(head[0].length);
    assert.equal(pixels.length, head[1] * head[2]);
    const white = pixels.filter(value => value > 250).length / pixels.length;
    const dark = pixels.filter(value => value < 90).length / pixels.length;
    assert.ok(white > 0.75 && dark > 0.005, `${white} white, ${dark} dark`);
  });

  onPage('a plan that does not fit says so, and what to ask for, on paper', async page => {
    await enterByTaps(page, { component: 'Red cells', volume: '600', issued: '13:40', start: '13:52' });
    await page.tap({ role: 'button', name: /^More/ });
    await page.tap({ role: 'field', name: 'Weight' });
    await tapKeys(page, '40');
    await page.tap({ role: 'button', name: 'Done' });
    await closed(page);
    await page.tap({ role: 'field', name: 'Risk of overload' });
    await page.tap({ role: 'button', name: 'yes' });
    await page.says('Does not fit');
    const { live } = await page.state();
    const sheet = await printed(page, 'a4');
    expectWhole(sheet, 'a4');
    const first = sheet.pages[0].words.map(({ text }) => text).join(' ');
    assert.match(first, /Does not fit/);
    assert.match(first, /split of at most/);
    assert.match(live, /^Does not fit/);
  });

  onPage('what was printed before does not stand on the next sheet', async page => {
    await enterByTaps(page);
    await expectWorkedCase(page);
    await printed(page, 'a4');
    await page.tap({ role: 'field', name: 'Volume on the label' });
    await tapKeys(page, '250');
    await page.tap({ role: 'button', name: 'Done' });
    await page.find({ role: 'field', name: 'Volume on the label', value: /^250 mL/ });
    const { layout } = await printed(page, 'a4');
    assert.match(layout, /Red cells, 250 mL/);
    assert.doesNotMatch(layout, /316|174 mL/);
  });

  onPage('before there is a plan the sheet says that there is none', async page => {
    const button = await page.find({ role: 'button', name: /^Print/ });
    assert.equal(button.disabled, true, 'the button waits for a plan');
    const { layout } = await printed(page, 'a4');
    assert.match(layout, /\w{4}/, 'the paper is not blank');
    assert.doesNotMatch(layout, /\d\d:\d\d|mL\/h/, 'no time and no rate');
  });
});
