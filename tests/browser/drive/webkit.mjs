// WebKit: its small reference browser by WebKitWebDriver, over plain WebDriver HTTP (W3C Recommendation), on
// a display of its own that needs no screen.

import { spawn } from 'node:child_process';
import { createServer } from 'node:net';
import { existsSync, readdirSync } from 'node:fs';
import { Page } from './page.mjs';
import { decodePng } from './png.mjs';

const pause = ms => new Promise(done => setTimeout(done, ms));
const screen = { width: 2560, height: 1800 };
// WebDriver's code points for keys that type nothing.
const codes = {
  Enter: '\uE007',
  Tab: '\uE004',
  Escape: '\uE00C',
  Backspace: '\uE003',
  Delete: '\uE017',
  Space: ' ',
  ArrowLeft: '\uE012',
  ArrowUp: '\uE013',
  ArrowRight: '\uE014',
  ArrowDown: '\uE015',
  Shift: '\uE008',
  Control: '\uE009',
};
const elementKey = 'element-6066-11e4-a52e-4f735466cecf';

export function browserProgram() {
  for (const folder of readdirSync('/usr/lib')) {
    for (const version of ['4.1', '4.0', '6.0']) {
      const path = `/usr/lib/${folder}/webkit${version === '6.0' ? '' : '2'}gtk-${version}/MiniBrowser`;
      if (existsSync(path)) return path;
    }
  }
  throw new Error('webkit2gtk-driver is not installed; run scripts/setup tests');
}

async function freePort() {
  const server = createServer();
  await new Promise(done => server.listen(0, '127.0.0.1', done));
  const { port } = server.address();
  await new Promise(done => server.close(done));
  return port;
}

// A display number, from the X server itself as soon as it can be used.
export async function startDisplay() {
  const server = spawn(
    'Xvfb',
    ['-displayfd', '3', '-screen', '0', `${screen.width}x${screen.height}x24`, '-nolisten', 'tcp'],
    { stdio: ['ignore', 'ignore', 'ignore', 'pipe'] },
  );
  const number = await new Promise((done, fail) => {
    server.once('error', () => fail(new Error('xvfb is not installed; run scripts/setup tests')));
    server.once('exit', status => fail(new Error(`Xvfb ended early (status ${status})`)));
    server.stdio[3].once('data', data => done(String(data).trim()));
  });
  return { server, number };
}

// zone, dark: as in puppeteer.mjs. scale: the display's density, which this browser only takes when it
// starts.
export async function launch({ zone = 'Etc/UTC', dark = false, scale = 1 } = {}) {
  const display = await startDisplay();
  const port = await freePort();
  const driver = spawn('WebKitWebDriver', [`--port=${port}`, '--host=127.0.0.1'], {
    stdio: 'ignore',
    detached: true, // a group of its own, so that the browser under it ends with it
    env: {
      ...process.env,
      DISPLAY: `:${display.number}`,
      TZ: zone,
      GDK_SCALE: String(scale),
      GDK_BACKEND: 'x11',
      GTK_THEME: dark ? 'Adwaita:dark' : 'Adwaita',
      NO_AT_BRIDGE: '1',
      GIO_USE_VFS: 'local',
    },
  });
  const browser = new WebKitBrowser(`http://127.0.0.1:${port}`, driver, display.server, scale);
  try {
    await browser.start();
  } catch (error) {
    await browser.close();
    throw error;
  }
  return browser;
}

class WebKitBrowser {
  constructor(address, driver, display, scale) {
    Object.assign(this, { engine: 'webkit', address, driver, display, scale });
  }

  async call(method, path, body) {
    const answer = await fetch(`${this.address}${path}`, {
      method,
      body: method === 'POST' ? JSON.stringify(body ?? {}) : undefined,
      headers: { 'content-type': 'application/json' },
    });
    const { value } = await answer.json();
    if (!answer.ok) throw new Error(`webkit: ${path}: ${value.error}: ${value.message}`);
    return value;
  }

  async start() {
    const end = Date.now() + 120_000;
    let ready = false;
    while (!ready) {
      ready = await this.call('GET', '/status').then(
        value => value.ready,
        () => false,
      );
      if (!ready && Date.now() > end) throw new Error('WebKitWebDriver did not become ready within 15 s');
      if (!ready) await pause(30);
    }
    const made = await this.call('POST', '/session', {
      capabilities: {
        alwaysMatch: {
          // Not when the page is loaded, but at once: the tests wait for the first frame by themselves.
          pageLoadStrategy: 'none',
          'webkitgtk:browserOptions': { binary: browserProgram(), args: ['--automation', '--private'] },
        },
      },
    });
    this.session = `/session/${made.sessionId}`;
    this.capabilities = made.capabilities;
    await this.call('POST', `${this.session}/timeouts`, { script: 180_000, pageLoad: 180_000, implicit: 0 });
  }

  // beside: as in puppeteer.mjs; here all pages share their storage until the browser ends.
  async open(address, { width = 1280, height = 800, beside } = {}) {
    const page = new WebKitPage(this);
    this.current ??= await this.call('GET', `${this.session}/window`);
    page.handle = this.current;
    if (beside) page.handle = (await page.call('POST', '/window/new', { type: 'tab' })).handle;
    page.second = beside !== undefined;
    await page.go(address);
    // A script that is still in the page before is answered with an error.
    await page.until(`the page ${address}`, () =>
      page
        .evaluate(() => document.readyState === 'complete' && location.href)
        .then(
          at => at === address,
          () => false,
        ),
    );
    await page.resize(width, height);
    return page;
  }

  // Only sets off: asks the page nothing, so that its start can be measured.
  async go(address) {
    const page = new WebKitPage(this);
    await this.call('POST', `${this.session}/url`, { url: address });
    return page;
  }

  version() {
    return `${this.capabilities.browserName} ${this.capabilities.browserVersion}`;
  }

  async close() {
    if (this.session) await this.call('DELETE', this.session).catch(() => {});
    if (this.driver.exitCode === null) {
      try {
        process.kill(-this.driver.pid, 'SIGTERM');
      } catch {
        /* it has ended */
      }
    }
    this.display.removeAllListeners('exit');
    this.display.kill();
  }
}

class WebKitPage extends Page {
  constructor(browser) {
    super('webkit');
    this.browser = browser;
    this.canTouch = false; // the driver knows no touch pointer
  }

  async call(method, path, body) {
    const { browser, handle } = this;
    if (handle && handle !== browser.current) {
      await browser.call('POST', `${browser.session}/window`, { handle });
      browser.current = handle;
    }
    return browser.call(method, `${browser.session}${path}`, body);
  }

  // The driver tells nothing of the console, so the page's own is listened to, from as early as the driver
  // can.
  async leaveBy(path, body) {
    await this.evaluate(() => {
      globalThis.left = true;
    });
    await this.call('POST', path, body);
    await this.until('the next document', () => this.evaluate(() => !globalThis.left).catch(() => false));
    await this.evaluate(() => {
      globalThis.heard = { console: [], errors: [] };
      for (const type of ['log', 'info', 'debug', 'warn', 'error']) {
        const real = console[type];
        console[type] = (...words) => {
          globalThis.heard.console.push(`${type}: ${words.join(' ')}`);
          real.apply(console, words);
        };
      }
      addEventListener('error', event => globalThis.heard.errors.push(event.message));
    });
  }

  async state() {
    const heard = await this.evaluate(() => globalThis.heard);
    this.console = heard?.console ?? [];
    this.errors = heard?.errors ?? [];
    return super.state();
  }

  go(address) {
    return this.leaveBy('/url', { url: address });
  }

  evaluate(wanted, ...given) {
    const script =
      typeof wanted === 'function'
        ? `const done = arguments[arguments.length - 1];
         Promise.resolve((${wanted})(...[...arguments].slice(0, -1))).then(value => done({ value }),
           error => done({ error: String(error) }));`
        : `arguments[arguments.length - 1]({ value: (${wanted}) });`;
    return this.call('POST', '/execute/async', { script, args: given }).then(({ value, error }) => {
      if (error) throw new Error(`webkit: ${error}`);
      return value;
    });
  }

  actions(list) {
    return this.call('POST', '/actions', { actions: list });
  }

  press(x, y) {
    return this.pressAll([[x, y]]);
  }

  pressAll(points) {
    const steps = points.flatMap(([x, y]) => [
      { type: 'pointerMove', duration: 0, origin: 'viewport', x: Math.round(x), y: Math.round(y) },
      { type: 'pointerDown', button: 0 },
      { type: 'pointerUp', button: 0 },
    ]);
    return this.actions([
      { type: 'pointer', id: 'mouse', parameters: { pointerType: 'mouse' }, actions: steps },
    ]);
  }

  touch(x, y) {
    return this.press(x, y);
  }

  async wheel(x, y, by) {
    await this.actions([
      {
        type: 'wheel',
        id: 'wheel',
        actions: [
          {
            type: 'scroll',
            duration: 0,
            origin: 'viewport',
            x: Math.round(x),
            y: Math.round(y),
            deltaX: 0,
            deltaY: by,
          },
        ],
      },
    ]);
    // The same turn again would count as no change. (It is taken back, at 0,0, where nothing scrolls.)
    await this.call('DELETE', '/actions');
  }

  keys(names, gap) {
    const steps = names.flatMap(name => {
      const value = codes[name] ?? name;
      const down = { type: 'keyDown', value },
        up = { type: 'keyUp', value };
      return gap ? [down, up, { type: 'pause', duration: gap }] : [down, up];
    });
    return this.actions([{ type: 'key', id: 'keyboard', actions: steps }]);
  }

  type(text, delay = 60) {
    return this.keys([...text], delay);
  }

  // In one go: this driver puts up to 20 ms between the keys of an action.
  async scan(text, end = 'Enter') {
    const active = (await this.call('GET', '/element/active'))[elementKey];
    await this.call('POST', `/element/${active}/value`, { text: text + codes[end] });
  }

  key(name) {
    return this.keys([name], 0);
  }

  async chord(modifier, name) {
    await this.actions([
      {
        type: 'key',
        id: 'keyboard',
        actions: [
          { type: 'keyDown', value: codes[modifier] },
          { type: 'keyDown', value: codes[name] ?? name },
          { type: 'keyUp', value: codes[name] ?? name },
          { type: 'keyUp', value: codes[modifier] },
        ],
      },
    ]);
  }

  async screenshot() {
    return decodePng(Buffer.from(await this.call('GET', '/screenshot'), 'base64'));
  }

  // The window is made as much larger than the page as its frame and its bars need.
  async resize(width, height) {
    for (let turn = 0; turn < 4; ++turn) {
      const inner = await this.evaluate(() => [innerWidth, innerHeight]);
      if (inner[0] === width && inner[1] === height) return;
      const outer = await this.call('GET', '/window/rect');
      await this.call('POST', '/window/rect', {
        x: 0,
        y: 0,
        width: outer.width + width - inner[0],
        height: outer.height + height - inner[1],
      });
      const end = Date.now() + 1500;
      while (Date.now() < end) {
        const now = await this.evaluate(() => [innerWidth, innerHeight]);
        if (now[0] === width && now[1] === height) return;
        await pause(20);
      }
    }
    const inner = await this.evaluate(() => [innerWidth, innerHeight]);
    throw new Error(`webkit: the page is ${inner}, not ${width},${height}`);
  }

  reload() {
    return this.leaveBy('/refresh');
  }

  async close() {
    if (!this.second) return this.go('about:blank');
    const [left] = await this.call('DELETE', '/window');
    await this.browser.call('POST', `${this.browser.session}/window`, { handle: left });
    this.browser.current = left;
  }
}
