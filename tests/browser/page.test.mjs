// The page in three engines, as somebody at a bedside meets it: opened from disk, tapped, typed at, scanned at.

import assert from 'node:assert/strict';
import { connect, createServer } from 'node:net';
import { after, before, describe, it } from 'node:test';
import * as byPuppeteer from './drive/puppeteer.mjs';
import * as byWebDriver from './drive/webkit.mjs';
import { coloursOf } from './drive/png.mjs';
import { address, enterByKeys, enterByTaps, ground, hasAnswers, zone } from './drive/steps.mjs';

const engines = [
  { name: 'chromium', launch: () => byPuppeteer.launch('chromium', { zone }), taps: 100 },
  { name: 'firefox', launch: () => byPuppeteer.launch('firefox', { zone }), taps: 30 },
  { name: 'webkit', launch: () => byWebDriver.launch({ zone }), taps: 30 },
];

// Nothing but the file itself, and what it makes of its own bytes.
const foreign = addresses => addresses.filter(text => text !== address && !/^(blob|data):/.test(text));
const complaints = page => [...page.console.filter(line => /^(error|warn)/.test(line)), ...page.errors];
const main = picture => [...coloursOf(picture).keys()][0];

// A wristband's code, made up; no character twice, because a key that is still down would count as held.
const scanned = '4Q7Z0XK9WV82';

for (const engine of engines) {
  describe(engine.name, () => {
    let browser, page;

    before(async () => { browser = await engine.launch(); }, { timeout: 60_000 });
    after(async () => { await browser?.close(); });

    const test = (name, body) => it(name, { timeout: 60_000 }, async () => {
      page = await browser.open(address);
      try {
        await page.running();
        await body();
        assert.deepEqual(complaints(page).filter(line => !/Content.Security.Policy/i.test(line)), [], 'console');
        assert.deepEqual((await page.state()).shown, [], 'a text instead of the picture');
      } finally {
        await page.close();
      }
    });

    test('opens from disk and draws', async () => {
      const { address: at, width, height } = await page.state();
      assert.match(at, /^file:/);
      const picture = await page.screenshot();
      assert.deepEqual([picture.width, picture.height], [width, height]);
      const colours = coloursOf(picture);
      assert.ok(colours.size > 20, `${colours.size} colours: letters have soft edges`);
      assert.ok(colours.get(ground.day) > 0.1 * width * height, 'the ground');
      const drawn = await page.evaluate(() => {
        const canvas = document.getElementById('picture');
        const { data } = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height);
        let other = 0;
        for (let i = 4; i < data.length; i += 4) other += data[i] !== data[0] || data[i + 1] !== data[1];
        return other;
      });
      assert.ok(drawn > 5000, `${drawn} pixels of the canvas differ from its corner`);
    });

    test('four entries by taps give the plan', async () => {
      await enterByTaps(page);
      await hasAnswers(page);
    });

    test('four entries by keyboard alone give the plan', async () => {
      await enterByKeys(page);
      await hasAnswers(page);
    });

    test('a tap on an answer shows its sum', async () => {
      await enterByTaps(page);
      await hasAnswers(page);
      assert.ok(!(await page.has({ name: /173\.43 mL\/h/ })), 'shown before the tap');
      await page.tap({ role: 'button', name: /^Then set/ });
      const { name } = await page.says(/= 173\.43 mL\/h/);
      assert.match(name, /\(316 mL - 12\.5 mL\)/);
      const { expanded } = await page.find({ role: 'button', name: /^Then set/ });
      assert.equal(expanded, 'true');
    });

    test('a scanner fills nothing, presses nothing and leaves nothing', async () => {
      const still = async () => (await page.nodes()).filter(node => !node.name.startsWith('It is'))
        .map(({ role, name, value, pressed, expanded }) => ({ role, name, value, pressed, expanded }));
      // It counts as a scan only if the page met it at a scanner's speed; a busy machine may stretch it, and then
      // it is done again from the beginning.
      let gaps = [Infinity], before;
      for (let turn = 0; turn < 5 && Math.max(...gaps) >= 34; ++turn) {
        if (turn > 0) {
          await page.close();
          page = await browser.open(address);
          await page.running();
        }
        await page.tap({ role: 'field', name: 'Component' });
        await page.tap({ role: 'button', name: 'Red cells' });
        await page.find({ role: 'heading', name: /^Volume/ }); // an entry that takes digits is open
        await page.key('Shift');
        before = await still();
        await page.evaluate(() => {
          window.seen = [];
          addEventListener('keydown', event => window.seen.push(event.timeStamp), true);
        });
        await page.scan(scanned);
        const seen = await page.until('all keys of the scan', async () => {
          const times = await page.evaluate(() => window.seen);
          return times.length === scanned.length + 1 && times;
        });
        gaps = seen.slice(1).map((time, i) => time - seen[i]);
      }
      assert.ok(Math.max(...gaps) < 34, `the keys came ${gaps} ms apart: no scan`);
      // A person's digit afterwards is taken, so what the scan did must have been done by then.
      const end = await page.evaluate(() => performance.now());
      await page.until('the tail of the scan', () => page.evaluate(from => performance.now() > from + 400, end));
      const after = await still();
      const told = after.filter(node => !before.some(old => JSON.stringify(old) === JSON.stringify(node)));
      assert.ok(told.every(node => node.role === 'text'), `changed: ${JSON.stringify(told)}`);
      const gone = before.filter(old => !after.some(node => JSON.stringify(old) === JSON.stringify(node)));
      assert.ok(gone.every(node => node.role === 'text'), `gone: ${JSON.stringify(gone)}`);
      const state = await page.state();
      const whole = [state.dom, state.live, state.title, state.address, state.stored, ...page.console,
        ...(await page.evaluate(() => [...document.querySelectorAll('input')].map(({ value }) => value)))].join('\n');
      for (let i = 0; i + 4 <= scanned.length; ++i) {
        assert.ok(!whole.includes(scanned.slice(i, i + 4)), `${scanned.slice(i, i + 4)} is in the page`);
      }
      await page.type('3');
      await page.find({ role: 'field', name: 'Volume on the label', value: /^3\b/ });
    });

    test('nothing leaves the page, and nothing could', async () => {
      await enterByTaps(page);
      const entries = await page.evaluate(() => performance.getEntriesByType('resource').map(({ name }) => name));
      assert.deepEqual(foreign([...page.requests, ...entries]), []);
      // Somebody is listening, so that only the page's own policy can stand in the way.
      let calls = 0;
      const server = createServer(socket => { calls += 1; socket.destroy(); });
      await new Promise(done => server.listen(0, '127.0.0.1', done));
      try {
        const refused = await page.evaluate(host => new Promise(done => {
          const seen = new Set();
          const note = what => {
            seen.add(what);
            if (seen.size === 4) done([...seen].sort());
          };
          setTimeout(() => done([...seen].sort()), 8000); // then too few, and the test says which
          addEventListener('securitypolicyviolation', event => {
            if (!event.blockedURI.startsWith('ws:')) note(event.effectiveDirective);
          });
          fetch(`http://${host}/fetch`).catch(() => {});
          new Image().src = `http://${host}/image`;
          const script = document.createElement('script');
          script.src = `http://${host}/script`;
          document.head.append(script);
          try { // the engines differ in how they say it
            const socket = new WebSocket(`ws://${host}/socket`);
            socket.onerror = () => note('socket');
            socket.onopen = () => note('socket opened');
          } catch {
            note('socket');
          }
        }), `127.0.0.1:${server.address().port}`);
        assert.deepEqual(refused, ['connect-src', 'img-src', 'script-src-elem', 'socket']);
        assert.equal(calls, 0, 'connections that came');
        await new Promise(done => connect(server.address().port, '127.0.0.1').resume().on('error', done).on('close', done));
        assert.equal(calls, 1, 'and one from outside the page, to show that it counts');
      } finally {
        server.close();
      }
    });

    test(`${engine.taps} quick taps all land`, async () => {
      await page.tap({ role: 'field', name: 'Component' });
      await page.tap({ role: 'button', name: 'Red cells' });
      await page.find({ role: 'heading', name: /^Volume/ });
      // 31, then a digit and its deletion over and over, then 6. A digit that is lost takes a 1 or a 3 away
      // with its deletion; a deletion that is lost leaves its digit.
      const names = ['3', '1'];
      while (names.length < engine.taps - 1) names.push(`${names.length / 2 % 7 + 2}`, 'Delete the last digit');
      names.push('6');
      const at = new Map();
      for (const name of new Set(names)) at.set(name, await page.middle({ role: 'button', name }));
      await page.pressAll(names.map(name => at.get(name)));
      await page.find({ role: 'field', name: 'Volume on the label', value: '316 mL' });
    });

    test('day and night have the grounds of the palette', async () => {
      assert.equal(main(await page.screenshot()), ground.day);
      await page.tap({ role: 'button', name: /colours$/ });
      await page.until('night', async () => main(await page.screenshot()) === ground.night);
      assert.equal((await page.state()).night, true);
      await page.tap({ role: 'button', name: /colours$/ }); // this engine may keep it for the next test
      await page.until('day', async () => main(await page.screenshot()) === ground.day);
    });
  });
}
