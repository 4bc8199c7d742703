// Chromium and Firefox, both through puppeteer-core: the one by its DevTools protocol, the other by WebDriver
// BiDi.

import puppeteer from 'puppeteer-core';
import { existsSync } from 'node:fs';
import { Page } from './page.mjs';
import { decodePng } from './png.mjs';

const pause = ms => new Promise(done => setTimeout(done, ms));

export const chromiumArguments = [
  '--no-sandbox',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--disable-default-apps',
  '--no-default-browser-check',
  '--hide-scrollbars',
];
export const firefoxSettings = {
  'app.update.enabled': false,
  'browser.safebrowsing.malware.enabled': false,
  'browser.safebrowsing.phishing.enabled': false,
  'datareporting.policy.dataSubmissionEnabled': false,
  'network.captive-portal-service.enabled': false,
  'network.connectivity-service.enabled': false,
  'security.fileuri.strict_origin_policy': true,
};

const programs = {
  chromium: [process.env.CHROMIUM, '/usr/bin/chromium'],
  firefox: [process.env.FIREFOX, '/usr/bin/firefox-esr'],
};

export function programOf(engine) {
  const path = programs[engine].find(path => path && existsSync(path));
  if (!path) throw new Error(`${engine} is not installed; run scripts/setup tests`);
  return path;
}

// zone: the browser's time zone. dark: what the system prefers, where it can only be said at the start
// (Firefox). arguments: more of the browser's own; without: which of puppeteer's to leave out.
export async function launch(
  engine,
  { zone = 'Etc/UTC', dark = false, arguments: more = [], without = [], headless = true } = {},
) {
  const executablePath = programOf(engine);
  const browser = await puppeteer.launch({
    browser: engine === 'chromium' ? 'chrome' : 'firefox',
    executablePath,
    headless,
    defaultViewport: null,
    timeout: 180_000, // a machine that has much else to do takes long to start it
    pipe: engine === 'chromium',
    args: engine === 'chromium' ? [...chromiumArguments, ...more] : more,
    ignoreDefaultArgs: without,
    env: { ...process.env, TZ: zone },
    extraPrefsFirefox:
      engine === 'firefox'
        ? { ...firefoxSettings, 'layout.css.prefers-color-scheme.content-override': dark ? 0 : 1 }
        : undefined,
  });
  return new PuppeteerBrowser(engine, browser, dark);
}

class PuppeteerBrowser {
  constructor(engine, browser, dark) {
    Object.assign(this, { engine, browser, dark });
  }

  // init: a function that runs before any script of the page. address: file:// by default. beside: a page whose
  // storage this one shares, as another tab of the same window.
  async open(
    address,
    { width = 1280, height = 800, scale = 1, dark = this.dark, touch = false, init, initArgument, beside } = {},
  ) {
    const context = beside?.context ?? (await this.browser.createBrowserContext());
    const tab = await context.newPage();
    tab.setDefaultTimeout(180_000);
    const page = new PuppeteerPage(this.engine, tab, context, beside !== undefined);
    tab.on('request', request => page.requests.push(request.url()));
    tab.on('console', message => page.console.push(`${message.type()}: ${message.text()}`));
    tab.on('pageerror', error => page.errors.push(String(error)));
    await tab.setViewport({
      width,
      height,
      deviceScaleFactor: scale,
      ...(this.engine === 'chromium' ? { hasTouch: touch } : {}),
    });
    if (this.engine === 'chromium') await page.setDark(dark);
    if (init) await tab.evaluateOnNewDocument(init, initArgument);
    await tab.goto(address, { waitUntil: 'load' });
    return page;
  }

  version() {
    return this.browser.version();
  }

  close() {
    return this.browser.close();
  }
}

class PuppeteerPage extends Page {
  constructor(engine, tab, context, second) {
    super(engine);
    this.tab = tab;
    this.second = second;
    this.context = context;
    this.canTouch = true;
  }

  evaluate(wanted, ...given) {
    return this.tab.evaluate(wanted, ...given);
  }

  async press(x, y) {
    await this.tab.mouse.click(x, y);
  }

  async touch(x, y) {
    await this.tab.touchscreen.tap(x, y);
  }

  // As quick as the protocol is: in Chromium without waiting for any answer, in their order all the same.
  async pressAll(points) {
    if (this.engine !== 'chromium') {
      for (const [x, y] of points) await this.tab.mouse.click(x, y);
      return;
    }
    const wire = await this.tab.createCDPSession();
    await Promise.all(
      points.flatMap(([x, y]) =>
        [
          ['mousePressed', 1],
          ['mouseReleased', 0],
        ].map(([type, buttons]) =>
          wire.send('Input.dispatchMouseEvent', { type, x, y, button: 'left', buttons, clickCount: 1 }),
        ),
      ),
    );
    await wire.detach();
  }

  async wheel(x, y, by) {
    await this.tab.mouse.move(x, y);
    await this.tab.mouse.wheel({ deltaY: by });
  }

  async type(text, delay = 60) {
    for (const letter of text) {
      await this.tab.keyboard.press(letter);
      await pause(delay);
    }
  }

  // All at once: each key arrives a few milliseconds after the one before, as from a scanner. A key goes up before the
  // next goes down, or a sign that stands twice would arrive as one key that is held.
  async scan(text, end = 'Enter') {
    const { keyboard } = this.tab;
    await Promise.all([...text, end].flatMap(key => [keyboard.down(key), keyboard.up(key)]));
  }

  key(name) {
    return this.tab.keyboard.press(name === 'Space' ? ' ' : name);
  }

  async chord(modifier, name) {
    await this.tab.keyboard.down(modifier);
    await this.key(name);
    await this.tab.keyboard.up(modifier);
  }

  async screenshot() {
    return decodePng(Buffer.from(await this.tab.screenshot({ type: 'png' })));
  }

  resize(width, height, scale = 1) {
    return this.tab.setViewport({ width, height, deviceScaleFactor: scale });
  }

  setDark(dark) {
    return this.tab.emulateMediaFeatures([{ name: 'prefers-color-scheme', value: dark ? 'dark' : 'light' }]);
  }

  reload() {
    return this.tab.reload({ waitUntil: 'load' });
  }

  close() {
    return this.second ? this.tab.close() : this.context.close();
  }
}
