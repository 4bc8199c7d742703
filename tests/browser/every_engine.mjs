// What must hold in each of the three engines: the same list for all of them, run by chromium.test.mjs,
// firefox.test.mjs and webkit.test.mjs.

import assert from 'node:assert/strict';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { after, before, describe, test } from 'node:test';
import { holdClock } from './drive/bedside.mjs';
import { enterByKeys, enterByTaps, expectWorkedCase, fields, tabTo, workedCase } from './drive/entries.mjs';
import { launch, pageAddress, pageFile, root } from './drive/index.mjs';
import { listen } from './drive/listener.mjs';
import {
  day,
  expectFingers,
  expectPalette,
  expectQuiet,
  expectSumInSight,
  night,
  scanIsNotTaken,
} from './drive/expect.mjs';
import { coloursOf } from './drive/png.mjs';
import { reachOut } from './drive/reach_out.mjs';
import { scans, taps, wideSizes } from './samples.mjs';

const minuteOf = page =>
  page.evaluate(() => {
    const now = new Date();
    return [now.getHours(), now.getMinutes()].map(n => String(n).padStart(2, '0')).join(':');
  });

// Moves the page's wall clock, once, when it loads, so that its next minute begins this many seconds later.
function minuteBeginsIn(seconds) {
  const real = Date.now.bind(Date);
  const shift = 60_000 - (real() % 60_000) - seconds * 1000;
  Date.now = () => real() + shift;
}

// engine: chromium, firefox or webkit. hold: { quickTaps } how many quick taps.
export function everyEngine(engine, { quickTaps }) {
  describe(engine, { concurrency: 1 }, () => {
    let browser;
    before(async () => {
      browser = await launch(engine);
    });
    after(async () => {
      await browser?.close();
    });

    // A test with a page of its own.
    const onPage = (name, body, options = {}) =>
      test(name, { timeout: 600_000 }, async () => {
        const page = await browser.open(options.address ?? pageAddress, options);
        try {
          await page.running();
          await body(page);
        } finally {
          await page.close();
        }
      });

    onPage('opens from disk and draws its first frame', async page => {
      assert.equal((await page.state()).address.slice(0, 8), 'file:///');
      expectPalette(await page.screenshot(), day);
      assert.deepEqual((await page.state()).shown, [], "no text stands in the picture's place");
      const nodes = await page.nodes();
      for (const name of Object.values(fields)) {
        assert.ok(
          nodes.some(node => node.role === 'field' && node.name === name),
          `a field ${name}`,
        );
      }
      assert.equal(
        nodes.filter(node => node.role === 'field').length,
        5,
        'the four entries and the rules, nothing else',
      );
      expectQuiet(page);
    });

    onPage('four entries by the drawn keys give rates and times, and every number its sum', async page => {
      await enterByTaps(page, workedCase, { finger: page.canTouch });
      await expectWorkedCase(page);
      // Worked out by hand, beside expectWorkedCase.
      const sums = {
        'Set at the start, 13:52': '50 mL/h for 15 min = 12.5 mL',
        'Then set, from 14:07': '(316 mL - 12.5 mL) in 1 h 45 min = 173.43 mL/h, set 174 mL/h',
        'Start by, latest': '13:40 + 30 min = 14:10',
        'All in by, latest': '13:40 + 4 h = 17:40',
        'All in, expected': '14:07 + 303.5 mL at 174 mL/h = 15:51:40',
        'Next check': '13:52 - 30 min = 13:22',
        'Decide by': '13:40 + 20 min = 14:00',
        'Hang by': '13:40 + 30 min = 14:10',
        'All in by': '13:40 + 4 h = 17:40',
        'Change the set by': '13:52 + 4 h = 17:52',
      };
      const before = new Set(
        (await page.nodes()).filter(node => node.role === 'text').map(node => node.name),
      );
      const numbers = (await page.nodes())
        .filter(node => node.expanded !== null)
        .map(node => node.name.split(': ')[0]);
      assert.deepEqual(numbers, Object.keys(sums), 'all the numbers there are');
      for (const label of numbers) {
        const button = { role: 'button', name: new RegExp(`^${label}: `) };
        await page.show(button);
        await page.tap(button, { finger: page.canTouch });
        await page.until(`${label} to open`, async () => (await page.find(button)).expanded === 'true');
        const told = (await page.nodes()).filter(
          node => node.role === 'text' && node.name.includes(sums[label]),
        );
        assert.equal(told.length, 1, `${label}: ${sums[label]}`);
        assert.ok(!before.has(told[0].name), 'it was not there before');
        const { height } = await page.state();
        assert.ok(
          told[0].box.y >= 0 && told[0].box.y + told[0].box.height <= height,
          `${label}: its sum is in sight`,
        );
      }
      const open = (await page.nodes()).filter(node => node.expanded === 'true');
      assert.equal(open.length, 1, 'one sum at a time');
      const { live } = await page.state();
      assert.match(live, /^Fits\b/, 'the live region says the verdict');
      expectQuiet(page);
    });

    onPage('four entries by the keyboard alone', async page => {
      await enterByKeys(page);
      await expectWorkedCase(page);
      const number = { role: 'button', name: /^Then set, from 14:07: / };
      await tabTo(page, number);
      await page.key('Space');
      await page.says('(316 mL - 12.5 mL) in 1 h 45 min = 173.43 mL/h, set 174 mL/h');
      await page.key('Enter');
      await page.until('the sum to close', async () => (await page.find(number)).expanded === 'false');
      expectQuiet(page);
    });

    for (const { name, text, end } of scans) {
      test(`a scanner's burst fills nothing and is kept nowhere: ${name}`, { timeout: 600_000 }, async () => {
        // On a busy machine the driver may be slower than any scanner; then it was none, and is tried again.
        for (let turn = 1; ; ++turn) {
          const page = await browser.open(pageAddress);
          try {
            await page.running();
            const gap = await scanIsNotTaken(page, text, end);
            if (gap < 30) return;
            assert.ok(turn < 40, `the driver types no faster than ${gap} ms a key`);
          } finally {
            await page.close();
          }
        }
      });
    }

    test(
      'no request leaves the page, and the policy refuses those that are tried',
      { timeout: 600_000 },
      async () => {
        const listener = await listen();
        const folder = mkdtempSync(join(tmpdir(), 'hangtime-'));
        let page;
        try {
          // First that a request would be noticed: a page without a policy that does the same.
          const free = join(folder, 'free.html');
          writeFileSync(free, '<!doctype html><meta charset="utf-8"><title>free</title><p id="mirror"></p>');
          page = await browser.open(String(pathToFileURL(free)));
          await page.until('the free page', () => page.evaluate(() => document.title === 'free'));
          await page.evaluate(reachOut, listener.port);
          await listener.until(
            paths => ['/fetch', '/img', '/socket'].every(path => paths.includes(path)),
            `a page without a policy reaches the listener by fetch, image and socket`,
          );
          if (engine !== 'webkit')
            assert.ok(
              page.requests.some(address => address.endsWith('/fetch')),
              'the protocol tells of requests',
            );
          await page.close();
          const before = listener.paths.length;

          page = await browser.open(pageAddress);
          await page.running();
          await enterByTaps(page);
          await expectWorkedCase(page);
          const beyond = address =>
            !address.startsWith('file:///') && !address.startsWith('blob:') && !address.startsWith('data:');
          assert.deepEqual(page.requests.filter(beyond), [], 'no request by itself');
          const own = await page.evaluate(() =>
            performance.getEntriesByType('resource').map(entry => entry.name),
          );
          assert.deepEqual(own, [], "no resource by the page's own list");

          const outcome = await page.evaluate(reachOut, listener.port);
          for (const way of ['fetch', 'img', 'socket', 'beacon', 'worker', 'script', 'style', 'frame']) {
            assert.notEqual(outcome[way], 'reached', `${way} is refused: ${outcome[way]}`);
          }
          assert.ok(
            outcome.violations.includes('connect-src') && outcome.violations.includes('img-src'),
            `the content policy is what refuses: ${outcome.violations}`,
          );
          assert.equal(listener.paths.length, before, `nothing arrived: ${listener.paths.slice(before)}`);
        } finally {
          await page?.close();
          await listener.close();
          rmSync(folder, { recursive: true });
        }
      },
    );

    onPage('day and night', async page => {
      expectPalette(await page.screenshot(), day);
      await page.tap({ role: 'button', name: 'Night colours' });
      await page.find({ role: 'button', name: 'Day colours' });
      assert.equal((await page.state()).night, true);
      expectPalette(await page.screenshot(), night);
      // The choice is kept for the next time; it is all that is kept.
      await page.reload();
      await page.find({ role: 'button', name: 'Day colours' });
      await page.until('the night colours', async () => coloursOf(await page.screenshot()).has(night.ground));
      assert.match((await page.state()).stored, /^[^\n]*night=1$/);
      await page.tap({ role: 'button', name: 'Day colours' });
      await page.find({ role: 'button', name: 'Night colours' });
      expectPalette(await page.screenshot(), day);
    });

    // WebKit and Firefox take what the system prefers, and WebKit the density, only when they start.
    const alike = async (options, body) => {
      const own = engine === 'webkit' || (engine === 'firefox' && options.dark);
      const other = own ? await launch(engine, options) : browser;
      let page;
      try {
        page = await other.open(pageAddress, options);
        await page.running();
        await body(page);
      } finally {
        await page?.close();
        if (own) await other.close();
      }
    };

    test('a system that prefers dark gets the night colours', { timeout: 600_000 }, () =>
      alike({ dark: true }, async page => {
        assert.equal((await page.state()).night, true);
        expectPalette(await page.screenshot(), night);
      }),
    );

    for (const { width, height, scale } of wideSizes) {
      test(`${width}x${height} at density ${scale}`, { timeout: 600_000 }, () =>
        alike({ width, height, scale }, async page => {
          const state = await page.state();
          assert.deepEqual([state.width, state.height, state.density], [width, height, scale]);
          await page.until(
            `a picture of ${width * scale}x${height * scale}, one pixel for each of the display`,
            async () => {
              const [wide, high] = await page.evaluate(() => {
                const { width, height } = document.getElementById('picture');
                return [width, height];
              });
              return wide === width * scale && high === height * scale;
            },
          );
          await enterByTaps(page, workedCase, { finger: page.canTouch });
          await expectWorkedCase(page);
          const nodes = await page.nodes();
          const first = ['Component', 'Volume on the label', 'Issued at', 'Start at'].map(name =>
            nodes.find(node => node.name === name),
          );
          const answers = [
            /^Set at the start/,
            /^Then set/,
            /^Start by/,
            /^All in by, latest/,
            /^All in, expected/,
            /^Next check/,
          ].map(name => nodes.find(node => name.test(node.name)));
          for (const { name, box } of [...first, ...answers]) {
            assert.ok(
              box.x >= 0 && box.y >= 0 && box.x + box.width <= width && box.y + box.height <= height,
              `${name} is wholly on the screen: ${JSON.stringify(box)}`,
            );
          }
          expectFingers(nodes);
          await expectSumInSight(page);
          const picture = await page.screenshot();
          assert.deepEqual([picture.width, picture.height], [width * scale, height * scale]);
          expectPalette(picture, day);
          // The picture reaches all four corners: no strip of another ground.
          for (const [x, y] of [
            [1, 1],
            [picture.width - 2, 1],
            [1, picture.height - 2],
            [picture.width - 2, picture.height - 2],
          ]) {
            assert.deepEqual(picture.at(x, y), [0xf7, 0xf3, 0xea], `the ground at ${x},${y}`);
          }
        }),
      );
    }

    onPage(`${quickTaps} quick taps all land`, async page => {
      await page.tap({ role: 'field', name: fields.volume });
      await page.find({ role: 'button', name: 'Delete the last digit' });
      const { sequence, left } = taps(quickTaps);
      const at = {};
      for (const key of new Set(sequence)) at[key] = await page.middle({ role: 'button', name: key });
      await page.pressAll(sequence.map(key => at[key]));
      await page.find({ role: 'field', name: fields.volume, value: `${left} mL` });
    });

    test("a ward's copy with rules of its own runs under the same policy", { timeout: 600_000 }, async () => {
      const folder = mkdtempSync(join(tmpdir(), 'hangtime-'));
      let page;
      try {
        const text = readFileSync(pageFile, 'utf8');
        const shipped = join(root, 'demo-data/protocols/general-ward.json');
        const own = JSON.parse(readFileSync(shipped, 'utf8'));
        own.id = 'ward-copy';
        own.title = 'Ward copy <b>';
        own.adopted = true;
        const empty = '<script type="application/json" id="protocols">[]</script>';
        const json = JSON.stringify(own).replaceAll('<', '\\u003c');
        const copy = text.replace(empty, () => empty.replace('[]', () => `[${json}]`));
        assert.notEqual(copy, text);
        const file = join(folder, 'hangtime.html');
        writeFileSync(file, copy);
        page = await browser.open(String(pathToFileURL(file)));
        await page.running();
        await page.find({ role: 'field', name: 'Rules', value: /^Ward copy <b>/ });
        await enterByTaps(page);
        await expectWorkedCase(page);
        assert.ok(
          !(await page.nodes()).some(node => /example/i.test(node.name + node.value)),
          'adopted rules are no example',
        );
        expectQuiet(page);
      } finally {
        await page?.close();
        rmSync(folder, { recursive: true });
      }
    });

    // The last one, because WebKit has to wait for a real minute.
    onPage(
      'the clock ticks',
      async page => {
        const clock = async () => (await page.find({ role: 'text', name: /^It is: / })).name.slice(7);
        const first = await clock();
        assert.match(first, /^\d\d:\d\d$/);
        if (engine === 'webkit') {
          assert.ok([first, await clock()].includes(await minuteOf(page)), "the clock is the machine's");
          await holdClock(page, 57_000 - (await page.evaluate(() => Date.now() % 60_000)));
        }
        const next = await page.until(
          'the next minute',
          async () => {
            const now = await clock();
            return now !== first && now;
          },
          8_000,
        );
        const minutes = text => Number(text.slice(0, 2)) * 60 + Number(text.slice(3));
        assert.equal((minutes(next) - minutes(first) + 1440) % 1440, 1, `${first} is followed by ${next}`);
      },
      { init: engine === 'webkit' ? undefined : minuteBeginsIn, initArgument: 3 },
    );
  });
}
