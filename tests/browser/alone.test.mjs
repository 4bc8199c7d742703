// The page by itself: it rests while nothing changes, does without a GPU, and says in words what it lacks
// when a browser cannot run it.

import assert from 'node:assert/strict';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { after, before, describe, test } from 'node:test';
import { enterByTaps, expectWorkedCase, fields } from './drive/entries.mjs';
import { launch, pageAddress, pageFile, pause } from './drive/index.mjs';
import { coloursOf } from './drive/png.mjs';

// Counts what is asked of the browser, from before the page's own script runs. The clock stands ten seconds
// into a minute, so that it has no reason to change.
function count() {
  const real = Date.now.bind(Date);
  const shift = 10_000 - (real() % 60_000);
  Date.now = () => real() + shift;
  const asked = (globalThis.asked = { frames: 0, timers: 0, pictures: 0 });
  const frame = requestAnimationFrame.bind(globalThis);
  globalThis.requestAnimationFrame = call => {
    ++asked.frames;
    return frame(call);
  };
  for (const name of ['setTimeout', 'setInterval']) {
    const timer = globalThis[name].bind(globalThis);
    globalThis[name] = (...given) => {
      ++asked.timers;
      return timer(...given);
    };
  }
  const put = CanvasRenderingContext2D.prototype.putImageData;
  CanvasRenderingContext2D.prototype.putImageData = function (...given) {
    ++asked.pictures;
    return put.apply(this, given);
  };
}

describe('the page alone', { concurrency: 1 }, () => {
  let browser;
  before(async () => {
    browser = await launch('chromium');
  });
  after(async () => {
    await browser?.close();
  });

  test('asks for no frame while nothing changes', { timeout: 600_000 }, async () => {
    const page = await browser.open(pageAddress, { init: count });
    try {
      await page.running();
      await enterByTaps(page);
      await expectWorkedCase(page);
      // An open keypad too: its cursor does not blink.
      await page.tap({ role: 'field', name: fields.volume });
      await page.find({ role: 'button', name: 'Clear the entry' });
      const asked = () => page.evaluate(() => ({ ...globalThis.asked }));
      let before = await asked();
      assert.ok(before.frames > 5 && before.pictures > 5, `it is counted: ${JSON.stringify(before)}`);
      await page.until('the last frame to be over', async () => {
        const now = await asked();
        const still = now.frames === before.frames;
        before = now;
        return still;
      });
      await pause(4000); // the very thing that is measured: nothing happens for this long
      assert.deepEqual(await asked(), before, 'no frame, no timer and no picture in four seconds');
      // The mouse alone changes nothing either; a tap does.
      for (let i = 0; i < 10; ++i) await page.tab.mouse.move(700 + i, 600);
      assert.equal((await asked()).pictures, before.pictures, 'no picture for a mouse that passes by');
      await page.tap({ role: 'button', name: '7' });
      await page.until('a picture', async () => (await asked()).pictures > before.pictures);
    } finally {
      await page.close();
    }
  });

  // Real machines without a GPU have no WebGL; "headless" alone would still give one in software.
  test('needs no WebGL', { timeout: 600_000 }, async () => {
    const bare = await launch('chromium', {
      arguments: ['--disable-3d-apis', '--disable-gpu'],
      without: ['--enable-unsafe-swiftshader'],
    });
    try {
      const page = await bare.open(pageAddress);
      assert.equal(
        await page.evaluate(
          () =>
            document.createElement('canvas').getContext('webgl') ??
            document.createElement('canvas').getContext('webgl2'),
        ),
        null,
        'there is none',
      );
      await page.running();
      await enterByTaps(page);
      await expectWorkedCase(page);
      assert.ok(coloursOf(await page.screenshot()).has('#F7F3EA'));
      assert.deepEqual(page.errors, []);
    } finally {
      await bare.close();
    }
  });

  test('without JavaScript it points to the paper method', { timeout: 600_000 }, async () => {
    const context = await browser.browser.createBrowserContext();
    const tab = await context.newPage();
    try {
      await tab.setJavaScriptEnabled(false);
      await tab.goto(pageAddress);
      const seen = await tab.evaluate(() => document.body.innerText);
      assert.match(seen, /needs JavaScript/);
      assert.match(seen, /paper method/);
      assert.match(seen, /a watch, and the card of rates and times\s+that/);
      assert.doesNotMatch(seen, /Loading/, 'it does not say that it is loading');
    } finally {
      await context.close();
    }
  });

  const lacking = [
    {
      name: 'without WebAssembly',
      init: () => {
        delete globalThis.WebAssembly;
      },
      shows: 'unable',
      says: /cannot run in this browser/,
    },
    {
      name: 'without a 2D canvas',
      init: () => {
        HTMLCanvasElement.prototype.getContext = () => null;
      },
      shows: 'unable',
      says: /cannot run in this browser/,
    },
    {
      name: 'when its program does not start',
      init: () => {
        WebAssembly.instantiate = () => Promise.reject(new Error('planted'));
      },
      shows: 'stopped',
      says: /has stopped/,
    },
    {
      name: 'when its program breaks off',
      shows: 'stopped',
      says: /has stopped/,
      // The first call into the program that follows a tap ends in a trap.
      init: () => {
        addEventListener(
          'pointerdown',
          () => {
            globalThis.Module._ht_frame = () => {
              throw new WebAssembly.RuntimeError('unreachable');
            };
          },
          true,
        );
      },
      tap: true,
    },
  ];
  for (const { name, init, shows, says, tap } of lacking) {
    test(`${name} it says so, and points to the paper method`, { timeout: 600_000 }, async () => {
      const page = await browser.open(pageAddress, { init });
      try {
        if (tap) {
          await page.running();
          await page.press(200, 100);
        }
        await page.until(`"${shows}"`, async () => (await page.state()).shown.includes(shows));
        const seen = await page.evaluate(() => document.body.innerText);
        assert.match(seen, says);
        assert.match(seen, /paper method/);
        assert.deepEqual((await page.state()).shown, [shows], 'one text, not several');
        // No picture that could still be taken for a working page, and no keys that do nothing.
        const { canvas, mirror } = await page.evaluate(() => ({
          canvas: getComputedStyle(document.getElementById('picture')).display,
          mirror: getComputedStyle(document.getElementById('mirror')).display,
        }));
        assert.deepEqual([canvas, mirror], ['none', 'none']);
        if (shows === 'stopped') {
          assert.match(seen, /called saved is safe on this machine/);
          assert.equal(await page.evaluate(() => globalThis.Hangtime.ticker()), 0, 'nothing goes on underneath');
        }
      } finally {
        await page.close();
      }
    });
  }

  test('after it broke off, its button loads it again', { timeout: 600_000 }, async () => {
    const page = await browser.open(pageAddress);
    try {
      await page.running();
      await page.evaluate(() => {
        globalThis.Module._ht_frame = () => {
          throw new WebAssembly.RuntimeError('unreachable');
        };
      });
      await page.press(200, 100);
      await page.until('the text', async () => (await page.state()).shown.includes('stopped'));
      await page.tab.click('#reload');
      await page.running();
    } finally {
      await page.close();
    }
  });

  // A browser that does not know our script's words, or a damaged file: not one line of it runs.
  test('when its script does not run at all it says so after a while', { timeout: 600_000 }, async () => {
    const folder = mkdtempSync(join(tmpdir(), 'hangtime-damaged-'));
    try {
      const whole = readFileSync(pageFile, 'utf8');
      const damaged = whole.replace(/<script>([^]*?)<\/script>/, (_, code) => `<script>=${code}</script>`);
      assert.notEqual(damaged, whole);
      writeFileSync(join(folder, 'damaged.html'), damaged);
      const page = await browser.open(String(pathToFileURL(join(folder, 'damaged.html'))));
      try {
        const seen = () => page.evaluate(() => document.body.innerText);
        assert.match(await seen(), /Loading/);
        await page.until('the words', async () => /It does not\s+start/.test(await seen()));
        assert.match(await seen(), /paper method/);
      } finally {
        await page.close();
      }
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });
});
