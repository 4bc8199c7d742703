// What wakes the page, the sound, and files: in each engine, on a bare page (drive/bare.mjs).

import assert from 'node:assert/strict';
import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, describe, test } from 'node:test';
import { BareSite } from './drive/bare.mjs';
import { launch, pause } from './drive/index.mjs';

// As if the browser had put the page to sleep: none of its own timers runs.
function withoutTimers() {
  globalThis.setTimeout = globalThis.setInterval = globalThis.requestAnimationFrame = () => 1;
}

// Counts what sounds, and how.
function listen() {
  globalThis.tones = [];
  const start = OscillatorNode.prototype.start;
  OscillatorNode.prototype.start = function (...given) {
    globalThis.tones.push([this.type, this.frequency.value, this.context.state]);
    return start.apply(this, given);
  };
}

for (const engine of ['chromium', 'firefox', 'webkit']) {
  describe(`time, sound and files in ${engine}`, { concurrency: 1 }, () => {
    let browser;
    const site = new BareSite();
    before(async () => {
      await site.serve();
      browser = await launch(engine);
    });
    after(async () => {
      await browser?.close();
      await site.close();
    });
    const onPage = (name, options, body) =>
      test(name, { timeout: 600_000 }, async () => {
        const { file, path } = site.add(options);
        const page = await browser.open(options.served ? site.address + path : file);
        try {
          await body(page);
        } finally {
          await page.close();
        }
      });

    for (const [where, served] of [
      ['from disk', false],
      ['served', true],
    ]) {
      onPage(
        `${where}: reminders come from the Worker alone, and not before their time`,
        { before: withoutTimers, served },
        async page => {
          assert.equal(await page.evaluate(() => globalThis.Hangtime.ticker()), 0, 'nothing ticks unasked');
          for (const ms of [0, 1500, 2700]) {
            const before = await page.evaluate(() => globalThis.bare.wakings.length);
            await page.evaluate(ms => globalThis.bare.remindIn(ms), ms);
            assert.equal(await page.evaluate(() => globalThis.Hangtime.ticker()), 1, 'the Worker');
            const late = await page.until('the reminder', () =>
              page.evaluate(before => globalThis.bare.wakings.slice(before), before).then(w => w.length && w),
            );
            // A tick is a second; the rest is room for a machine that has much else to do. A page's own timers,
            // were they what wakes it, would come once a minute in a hidden tab, and never here.
            assert.ok(late[0] >= 0 && late[0] <= 30_000, `${late[0]} ms late`);
          }
          assert.equal((await page.state()).title, 'woken 3');
          await page.evaluate(() => globalThis.Hangtime.tickWanted(false));
          assert.equal(await page.evaluate(() => globalThis.Hangtime.ticker()), 0);
          const ticks = await page.evaluate(() => globalThis.bare.ticks);
          await pause(2500); // the very thing that is measured
          assert.equal(await page.evaluate(() => globalThis.bare.ticks), ticks, 'and stops when nothing is due');
        },
      );
    }

    onPage(
      'without a Worker the page ticks by itself, and says so',
      {
        before: () => {
          globalThis.Worker = class {
            constructor() {
              throw new DOMException('planted', 'SecurityError');
            }
          };
        },
      },
      async page => {
        await page.evaluate(() => globalThis.bare.remindIn(500));
        assert.equal(await page.evaluate(() => globalThis.Hangtime.ticker()), 2);
        await page.until('the reminder', () => page.evaluate(() => globalThis.bare.wakings.length === 1));
      },
    );

    onPage('somebody who looks again is noticed, and a Worker that fell asleep is started again', {}, async page => {
      const before = await page.evaluate(() => globalThis.bare.awakenings);
      await page.evaluate(() => {
        dispatchEvent(new Event('focus'));
      });
      await page.until('it', () => page.evaluate(b => globalThis.bare.awakenings > b, before));
      // The Worker is as good as dead for longer than a few ticks.
      await page.evaluate(() => {
        const real = performance.now.bind(performance);
        globalThis.bare.remindIn(300);
        performance.now = () => real() + 60_000;
        dispatchEvent(new Event('focus'));
      });
      await page.until('the reminder', () => page.evaluate(() => globalThis.bare.wakings.length === 1));
    });

    onPage('the sound is off until it is switched on and somebody touched the page', { before: listen }, async page => {
      const sound = () => page.evaluate(() => globalThis.Hangtime.sound());
      const tones = () => page.evaluate(() => globalThis.tones);
      assert.equal(await sound(), 0);
      await page.evaluate(() => globalThis.Hangtime.chime());
      await page.press(200, 200);
      await page.evaluate(() => globalThis.Hangtime.chime());
      assert.equal(await sound(), 0, 'a touch alone does not switch it on');
      // Switched on, on this machine, some time ago. (What a driver runs may count as a touch: not set here.)
      await page.evaluate(() => localStorage.setItem('hangtime.1.sound', '1'));
      await page.reload();
      await page.until('it to wait for a touch', async () => (await sound()) === 2);
      await page.evaluate(() => globalThis.Hangtime.chime());
      assert.deepEqual(await tones(), []);
      await page.press(200, 200);
      await page.until('the touch', async () => (await sound()) === 1);
      await page.evaluate(() => globalThis.Hangtime.chime());
      // Firefox starts no sound on a machine without a loudspeaker, as this one may be.
      if (engine === 'firefox') return;
      const heard = await page.until('the sound', async () => ((await tones()).length ? tones() : null));
      assert.equal(heard.length, 1, 'one tone, not a group');
      const [[type, hertz, state]] = heard;
      assert.equal(type, 'sine', 'without overtones');
      assert.ok(hertz > 200 && hertz < 300, `${hertz} Hz`);
      assert.equal(state, 'running');
      await page.evaluate(() => globalThis.Hangtime.setSound(false));
      await page.evaluate(() => globalThis.Hangtime.chime());
      assert.equal((await tones()).length, 1);
      assert.deepEqual(page.errors, []);
    });

    // (WebKit's driver knows neither downloads nor file pickers of a page.)
    if (engine !== 'webkit') {
      // The picker itself is the browser's: the driver puts the file where the picker would.
      const before = () => {
        HTMLInputElement.prototype.click = () => {};
      };
      onPage('a file is chosen: its text comes, its name does not', { before }, async page => {
        const folder = mkdtempSync(join(tmpdir(), 'hangtime-file-'));
        try {
          const choose = async (name, bytes) => {
            writeFileSync(join(folder, name), bytes);
            await page.evaluate(() => {
              globalThis.bare.files.length = 0;
              globalThis.Hangtime.openFile();
            });
            const picker = await page.tab.evaluateHandle(() => globalThis.Hangtime.picker);
            await picker.uploadFile(join(folder, name));
            return page.until('the file', () => page.evaluate(() => globalThis.bare.files[0] ?? null));
          };
          assert.deepEqual(await choose('somebody.json', '{"a": "ü"}'), [0, '{"a": "ü"}']);
          assert.deepEqual(await choose('large.json', Buffer.alloc(16_000_001, 32)), [1, '']);
          assert.deepEqual(await choose('not-text.json', Buffer.from([0xff, 0xfe, 0x41])), [2, '']);
          assert.deepEqual(await choose('empty.json', ''), [0, '']);
          await page.evaluate(() => {
            globalThis.bare.files.length = 0;
            globalThis.Hangtime.openFile();
            globalThis.Hangtime.picker.dispatchEvent(new Event('cancel'));
          });
          await page.until('it', () => page.evaluate(() => globalThis.bare.files[0]?.[0] === 3));
        } finally {
          rmSync(folder, { recursive: true, force: true });
        }
      });
    }

    if (engine !== 'webkit') {
      const before = () => {
        HTMLInputElement.prototype.click = () => {};
      };
      onPage('many files are chosen: as many are read as are asked for, in order and without their names', { before }, async page => {
        const folder = mkdtempSync(join(tmpdir(), 'hangtime-files-'));
        try {
          const names = [];
          for (let i = 0; i < 40; ++i) {
            names.push(join(folder, `somebody-${String(i).padStart(2, '0')}.log`));
            writeFileSync(names[i], i === 7 ? Buffer.from([0xff, 0xfe]) : i === 9 ? Buffer.alloc(16_000_001, 32) : `log ${i}`);
          }
          const choose = async () => {
            await page.evaluate(() => globalThis.Hangtime.openFiles());
            const picker = await page.tab.evaluateHandle(() => globalThis.Hangtime.picker);
            await picker.uploadFile(...names);
          };
          const files = () => page.evaluate(() => globalThis.bare.files);
          await choose();
          await page.until('how many', async () => (await page.evaluate(() => globalThis.bare.chosen[0])) === 40);
          await pause(200);
          assert.deepEqual(await files(), [], 'nothing is read before it is asked for');
          await page.evaluate(() => globalThis.Hangtime.readFiles(12));
          await page.until('twelve', async () => (await files()).length === 12);
          await pause(200);
          const read = await files();
          assert.equal(read.length, 12);
          read.forEach(([outcome, text], i) => assert.deepEqual([outcome, text], i === 7 ? [2, ''] : i === 9 ? [1, ''] : [0, `log ${i}`]));
          await page.evaluate(() => globalThis.Hangtime.readFiles(100));
          await page.until('all', async () => (await files()).length === 40);
          // What is under way when it is stopped comes to nothing; another choice begins anew.
          await choose();
          await page.until('again', async () => (await page.evaluate(() => globalThis.bare.chosen.length)) === 2);
          await page.evaluate(() => {
            globalThis.Hangtime.readFiles(40);
            globalThis.Hangtime.forgetFiles();
          });
          await pause(300);
          assert.equal((await files()).length, 40);
          await page.evaluate(() => {
            globalThis.Hangtime.openFiles();
            globalThis.Hangtime.picker.dispatchEvent(new Event('cancel'));
          });
          await page.until('none', async () => (await page.evaluate(() => globalThis.bare.chosen[2])) === 0);
          assert.deepEqual(page.errors, []);
        } finally {
          rmSync(folder, { recursive: true, force: true });
        }
      });
    }

    if (engine === 'chromium') {
      onPage('a text is saved as a file, under the content policy', {}, async page => {
        const folder = mkdtempSync(join(tmpdir(), 'hangtime-save-'));
        try {
          const wire = await browser.browser.target().createCDPSession();
          await wire.send('Browser.setDownloadBehavior', {
            behavior: 'allow',
            downloadPath: folder,
            browserContextId: page.context.id,
          });
          const text = 'line 1\nzwei ü 血\n';
          await page.evaluate(text => globalThis.Hangtime.saveFile('kite.json', text, 'application/json'), text);
          await page.until('the file', () => readdirSync(folder).includes('kite.json'));
          assert.equal(readFileSync(join(folder, 'kite.json'), 'utf8'), text);
          assert.deepEqual(page.errors, []);
        } finally {
          rmSync(folder, { recursive: true, force: true });
        }
      });
    }
  });
}
