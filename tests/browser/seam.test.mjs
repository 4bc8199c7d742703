// The way between the browser and C++, on the real page with a small guest in the place of the program
// (seam/seam_page.cpp): what the native twin stands for, held against the thing itself.

import assert from 'node:assert/strict';
import { existsSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { after, before, describe, test } from 'node:test';
import { everyRecord } from './drive/in_page.mjs';
import { launch, root } from './drive/index.mjs';

const file = `${root}/build/wasm/seam.html`;
const address = String(pathToFileURL(file));
// As SessionStore and platform.hpp number them.
const mode = { durable: 1, readOnly: 2, memory: 3 };

for (const engine of ['chromium', 'firefox', 'webkit']) {
  describe(`the seam in ${engine}`, { concurrency: 1 }, () => {
    let browser;
    before(async () => {
      assert.ok(existsSync(file), `there is no ${file}; run scripts/test`);
      browser = await launch(engine);
    });
    after(async () => {
      await browser?.close();
    });

    const said = page =>
      page.evaluate(() =>
        Object.fromEntries(
          (document.getElementById('live')?.textContent ?? '').split('; ').map(part => {
            const [name, ...words] = part.split(' ');
            return [name, words.join(' ')];
          }),
        ),
      );
    const until = async (page, wanted) => {
      let now;
      try {
        await page.until(JSON.stringify(wanted), async () => {
          now = await said(page);
          return Object.entries(wanted).every(([name, value]) => now[name] === String(value));
        });
      } catch (error) {
        throw new Error(`${error.message}\nbut: ${JSON.stringify(now)}`);
      }
    };
    const onPage = (name, body, { breaks = false } = {}) =>
      test(name, { timeout: 600_000 }, async () => {
        const page = await browser.open(address);
        try {
          await until(page, { mode: mode.durable });
          await page.key('c');
          await until(page, { mode: mode.durable, left: '0,0,0', noted: 0 });
          await body(page);
          if (!breaks) assert.deepEqual(page.errors, []);
        } finally {
          await page.close();
        }
      });

    onPage('records go out, are saved, and come back as they were', async page => {
      await page.key('a');
      await until(page, { noted: 1, saved: 1, trouble: 0 });
      await page.key('m');
      await until(page, { noted: 51, saved: 51 });
      await page.key('a');
      await until(page, { noted: 52, saved: 52 });
      await page.reload();
      await until(page, { mode: mode.durable, noted: 52, saved: 52, last: 'record ü 2' });
      const other = await browser.open(address, { beside: page });
      try {
        await until(other, { mode: mode.readOnly, noted: 52 });
        await other.key('a');
        await until(other, { noted: 52 });
        await other.key('t');
        await until(other, { mode: mode.durable });
        await other.key('a');
        await until(other, { noted: 53, saved: 53 });
        await until(page, { mode: mode.readOnly, noted: 53 });
      } finally {
        await other.close();
      }
      await until(page, { mode: mode.durable });
      await page.key('d');
      await until(page, { noted: 0 });
      // It is gone from the store a moment later.
      await page.until('the store to be empty', async () => !(await page.evaluate(everyRecord)).includes('record '));
      await page.reload();
      await until(page, { mode: mode.durable, noted: 0 });
    });

    onPage('what is rehearsed comes to the one who asked, and mixes with nothing', async page => {
      await page.key('a');
      await page.key('q'); // not open yet: it may not be noted at all
      await until(page, { noted: 1, saved: 1, rehearsal: 0, played: 0 });
      await page.key('p');
      await until(page, { rehearsal: mode.durable });
      await page.key('q');
      await page.key('q');
      await until(page, { noted: 1, saved: 1, played: 2, kept: 2 });
      await page.reload();
      await until(page, { mode: mode.durable, noted: 1, saved: 1, rehearsal: 0, played: 0 });
      await page.key('p');
      await until(page, { mode: mode.durable, noted: 1, rehearsal: mode.durable, played: 2, kept: 2 });
      await page.key('c');
      await until(page, { mode: mode.durable, left: '0,0,0', noted: 0, played: 0 });
      await page.reload();
      await until(page, { mode: mode.durable }); // before that it hears no keys
      await page.key('p');
      await until(page, { mode: mode.durable, noted: 0, rehearsal: mode.durable, played: 0 });
    });

    onPage(
      'after a trap nothing goes on, and another window may write',
      async page => {
        await page.key('a');
        await until(page, { noted: 1, saved: 1 });
        const other = await browser.open(address, { beside: page });
        try {
          await until(other, { mode: mode.readOnly, noted: 1 });
          await page.key('x');
          await page.until('the text', async () => (await page.state()).shown.includes('stopped'));
          await until(other, { mode: mode.durable, noted: 1, saved: 1 });
        } finally {
          await other.close();
        }
      },
      { breaks: true },
    );

    // The last: after it, WebKit's next page hears no keys from its driver (seen, not explained).
    onPage('a reminder, a clock that is set, somebody who looks again, and chance', async page => {
      await page.key('r');
      await until(page, { ticker: 1 });
      await until(page, { woken: 1, ticker: 0 });
      assert.equal((await page.state()).title, 'woken');
      for (const hour of [3600, -3600]) {
        await page.evaluate(by => {
          const real = Date.now.bind(Date);
          Date.now = () => real() + by * 1000;
          dispatchEvent(new Event('focus'));
        }, hour);
        await until(page, { jumped: hour, awake: 1 });
      }
      await page.key('k');
      await page.until('a key', async () => /^[0-9a-f]{16}$/.test((await said(page)).key));
      const { key } = await said(page);
      await page.key('k');
      await page.until('another', async () => (await said(page)).key !== key);
      await page.key('s'); // pressing it is a touch
      await page.until('the sound', async () => ['1', '2'].includes((await said(page)).sound));
      await page.reload();
      await until(page, { sound: 2 });
    });
  });
}
