// Kills a renderer, or a whole browser, while a page writes to its store, and looks afterwards what is there.
//
// The page works by itself (a bare page, see bare.mjs) and reports here what it found at its start and each record
// that was answered as saved. A report can get lost with the page, so what is known here as saved is at most what the
// page was told. After each kill the same profile is opened again: every record that was reported must be there,
// unchanged, in its order, and without a gap before it.

import puppeteer from 'puppeteer-core';
import { spawn } from 'node:child_process';
import { createServer } from 'node:http';
import { mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { barePage } from './bare.mjs';
import { chromiumArguments, firefoxSettings, programOf } from './puppeteer.mjs';
import { browserProgram, startDisplay } from './webkit.mjs';

const pause = ms => new Promise(done => setTimeout(done, ms));
const textOf = (session, n) => `${session}/${n} `.repeat(1 + ((n * 37) % 60));

// Runs in the page after the product's scripts.
function workAlone({ port, lies }) {
  const { bare, Hangtime } = globalThis;
  const report = (what, body) =>
    fetch(`http://127.0.0.1:${port}/${what}`, { method: 'POST', mode: 'no-cors', body: JSON.stringify(body) });
  const textOf = (session, n) => `${session}/${n} `.repeat(1 + ((n * 37) % 60));
  const session = `s${Date.now().toString(36)}`;
  let next = 0,
    found = false,
    reported = false,
    writing = false;
  const write = async () => {
    for (;;) {
      const n = ++next;
      if (lies) {
        report('saved', { session, n });
        await new Promise(done => setTimeout(done, 100)); // a quick disk would make the lie true at once
      }
      const outcome = await bare.append(session, n, textOf(session, n));
      if (outcome !== 'saved') return report('refused', { session, n, outcome });
      report('saved', { session, n });
    }
  };
  bare.told = async () => {
    if (!found && bare.loaded) {
      found = true;
      await report('found', bare.records);
      reported = true; // from here on: what is written must not be known there before what was found
    }
    if (!writing && reported && bare.writes()) {
      writing = true;
      for (let i = 0; i < 3; ++i) write(); // three on their way at any time
      // Old sessions go, as they do in the product.
      const old = [...new Set(bare.records.map(([name]) => name))].sort().slice(0, -2);
      for (const name of old) {
        await report('removing', { session: name });
        if ((await bare.remove(name)) === 'saved') report('removed', { session: name });
      }
    }
  };
  Hangtime.openStore();
}

class Ledger {
  constructor() {
    this.saved = new Map(); // session -> highest number that was reported as saved
    this.removing = new Set();
    this.removed = new Set();
    this.wrong = [];
    this.found = this.acknowledged = 0;
    this.server = createServer((request, response) => {
      const parts = [];
      request.on('data', part => parts.push(part));
      request.on('end', () => {
        response.statusCode = 204;
        response.end();
        this.take(request.url.slice(1), JSON.parse(Buffer.concat(parts)));
      });
    });
  }

  async listen() {
    await new Promise(done => this.server.listen(0, '127.0.0.1', done));
    return this.server.address().port;
  }

  take(what, body) {
    if (what === 'found') {
      this.compare(body);
      ++this.found;
    } else if (what === 'saved') {
      ++this.acknowledged;
      this.saved.set(body.session, Math.max(body.n, this.saved.get(body.session) ?? 0));
    } else if (what === 'refused') {
      this.wrong.push(`${body.session}/${body.n}: ${body.outcome}`);
    } else {
      this[what].add(body.session);
    }
    this.heard?.();
  }

  compare(records) {
    const there = new Map();
    for (const [session, n, text] of records) {
      const before = there.get(session) ?? 0;
      if (n !== before + 1) this.wrong.push(`${session}: ${n} after ${before}`);
      if (text !== textOf(session, n)) this.wrong.push(`${session}/${n} has another text`);
      if (this.removed.has(session)) this.wrong.push(`${session} was removed and is there`);
      there.set(session, n);
    }
    for (const [session, n] of this.saved) {
      if (this.removing.has(session)) continue;
      const last = there.get(session) ?? 0;
      if (last < n) this.wrong.push(`${session}: ${n} were saved, ${last} are there`);
    }
    this.last = there;
  }

  async until(what, holds, patience = 120_000) {
    const end = Date.now() + patience;
    while (!holds()) {
      if (Date.now() > end) throw new Error(`${what} did not come within ${patience / 1000} s`);
      await Promise.race([new Promise(done => (this.heard = done)), pause(200)]);
    }
  }

  close() {
    this.server.closeAllConnections();
    this.server.close();
  }
}

// The process and everything under it, as [pid, command line].
export function family(root) {
  const children = new Map();
  for (const name of readdirSync('/proc')) {
    if (!/^\d+$/.test(name)) continue;
    try {
      const parent = Number(readFileSync(`/proc/${name}/stat`, 'utf8').replace(/^.*\) \S+ /s, '').split(' ')[0]);
      children.set(parent, [...(children.get(parent) ?? []), Number(name)]);
    } catch {
      /* it has ended */
    }
  }
  const found = [];
  const add = pid => {
    let words = '';
    try {
      words = readFileSync(`/proc/${pid}/cmdline`, 'utf8').replaceAll('\0', ' ');
    } catch {
      return;
    }
    found.push([pid, words]);
    for (const child of children.get(pid) ?? []) add(child);
  };
  add(root);
  return found;
}

export async function killAll(pids) {
  for (const pid of pids) {
    try {
      process.kill(pid, 'SIGKILL');
    } catch {
      /* it has ended */
    }
  }
  const runs = pid => {
    try {
      return !/^\d+ \(.*\) Z/s.test(readFileSync(`/proc/${pid}/stat`, 'utf8'));
    } catch {
      return false;
    }
  };
  for (let turns = 0; pids.some(runs) && turns < 500; ++turns) await pause(10);
}

// Each engine's way to start a browser on a profile with the page, without any remote control.
const start = {
  chromium: (folder, address) =>
    spawn(
      programOf('chromium'),
      ['--headless=new', `--user-data-dir=${folder}/profile`, ...chromiumArguments, address],
      { stdio: 'ignore' },
    ),
  firefox: (folder, address) => {
    const profile = join(folder, 'profile');
    mkdirSync(profile, { recursive: true });
    const settings = {
      ...firefoxSettings,
      'browser.sessionstore.resume_from_crash': false,
      'toolkit.startup.max_resumed_crashes': -1,
      'browser.shell.checkDefaultBrowser': false,
      'browser.aboutwelcome.enabled': false,
      'browser.startup.homepage_override.mstone': 'ignore',
      'datareporting.policy.firstRunURL': '',
      'toolkit.telemetry.reportingpolicy.firstRun': false,
    };
    const lines = Object.entries(settings).map(
      ([name, value]) => `user_pref(${JSON.stringify(name)}, ${JSON.stringify(value)});`,
    );
    writeFileSync(join(profile, 'user.js'), lines.join('\n'));
    return spawn(programOf('firefox'), ['--headless', '--no-remote', '--profile', profile, address], {
      stdio: 'ignore',
    });
  },
  webkit: (folder, address, display) =>
    spawn(browserProgram(), [address], {
      stdio: 'ignore',
      env: {
        ...process.env,
        DISPLAY: `:${display}`,
        GDK_BACKEND: 'x11',
        NO_AT_BRIDGE: '1',
        GIO_USE_VFS: 'local',
        HOME: folder,
        XDG_DATA_HOME: join(folder, 'data'),
        XDG_CACHE_HOME: join(folder, 'cache'),
        XDG_CONFIG_HOME: join(folder, 'config'),
      },
    }),
};

// what: "browser" or, in Chromium, "renderer". most: milliseconds until a kill. lies: the page says "saved" before it
// is, which must be found out. each: called after every kill with the number so far.
// -> { kills, acknowledged, seconds, wrong: [what is not as it must be] }
export async function killAtRandom(engine, what, kills, { most = 700, lies = false, each = () => {} } = {}) {
  const folder = mkdtempSync(join(tmpdir(), 'hangtime-kill-'));
  const ledger = new Ledger();
  const begun = Date.now();
  let display, driven, process_;
  try {
    const port = await ledger.listen();
    const file = join(folder, 'page.html');
    writeFileSync(file, barePage({ after: workAlone, given: { port, lies }, reports: port }));
    const address = String(pathToFileURL(file));
    if (engine === 'webkit') display = await startDisplay();
    const drive = () =>
      puppeteer.launch({
        executablePath: programOf('chromium'),
        userDataDir: join(folder, 'profile'),
        pipe: true,
        args: chromiumArguments,
      });
    if (what === 'renderer') driven = await drive();
    for (let n = 0; ; ++n) {
      let tab;
      if (driven) {
        // A tab that was given a renderer which was just killed never comes up; after a few of them the whole
        // browser is started again.
        for (let turns = 1; !tab; ++turns) {
          tab = await Promise.race([driven.newPage().catch(() => null), pause(turns < 3 ? 5000 : 20_000)]);
          if (tab) break;
          if (turns === 12) throw new Error(`chromium opens no tab any more after ${n} kills`);
          if (turns < 3) continue;
          await killAll(family(driven.process().pid).map(([pid]) => pid));
          driven = await drive();
        }
        await tab.goto(address);
      } else {
        process_ = start[engine](folder, address, display?.number);
      }
      // A browser that was just killed sometimes does not come up again at once; it is started twice more, no oftener.
      for (let tries = 1; ; ++tries) {
        const came = ledger.until(`${engine}: the page after kill ${n}`, () => ledger.found > n, driven ? 120_000 : 60_000);
        if (driven || tries === 3) {
          await came;
          break;
        }
        if (await came.then(() => true, () => false)) break;
        await killAll(family(process_.pid).map(([pid]) => pid));
        process_ = start[engine](folder, address, display?.number);
      }
      if (n === kills || ledger.wrong.length > 0) break;
      // At any moment: every other time from before the first record on, else from the first that was saved.
      const { acknowledged } = ledger;
      if (n % 2 === 1) await ledger.until('a record that is saved', () => ledger.acknowledged > acknowledged);
      await pause(Math.random() * most);
      if (driven) {
        const renderers = family(driven.process().pid).filter(([, words]) => words.includes('--type=renderer'));
        await killAll(renderers.map(([pid]) => pid));
        await tab.close().catch(() => {});
      } else {
        await killAll(family(process_.pid).map(([pid]) => pid));
      }
      each(n + 1);
    }
    return {
      kills: ledger.found - 1,
      acknowledged: ledger.acknowledged,
      seconds: (Date.now() - begun) / 1000,
      wrong: ledger.wrong,
    };
  } finally {
    if (driven) await killAll(family(driven.process().pid).map(([pid]) => pid));
    if (process_) await killAll(family(process_.pid).map(([pid]) => pid));
    if (display) {
      display.server.removeAllListeners('exit');
      display.server.kill();
    }
    ledger.close();
    rmSync(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
  }
}
