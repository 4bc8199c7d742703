// Measures the page beside a stock Dear ImGui page, and the core natively beside WebAssembly. Prints a
// table; it never fails because a figure is large. scripts/bench builds what is needed and starts this:
//
//   measure.mjs PAGE STOCK_PAGE NATIVE_BENCH WASM_BENCH quick|full PART...

import { execFileSync } from 'node:child_process';
import { readFileSync, statSync } from 'node:fs';
import { loadavg } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { gzipSync } from 'node:zlib';
import { Bedside } from '../browser/drive/bedside.mjs';
import { launch } from '../browser/drive/puppeteer.mjs';
import { launch as launchWebKit } from '../browser/drive/webkit.mjs';
import { memory, quickTaps, saves, untilRunning, watchStore } from './session.mjs';

const [page, stock, nativeBench, wasmBench, how, ...parts] = process.argv.slice(2);
const quick = how === 'quick';
const address = file => pathToFileURL(resolve(file)).href;
const called = engine => engine[0].toUpperCase() + engine.slice(1);
const pause = ms => new Promise(done => setTimeout(done, ms));

// Chromium draws WebGL in software only when it is told to; our page is measured in the same browser.
const chromium = () => launch('chromium', { arguments: ['--enable-unsafe-swiftshader'] });

// --- the table ---

const rows = [];
const notes = [];
const part = (sorted, share) => sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))];
function figure(values) {
  const sorted = values.filter(Number.isFinite).sort((a, b) => a - b);
  if (sorted.length === 0) return undefined;
  return {
    median: part(sorted, 0.5), p95: part(sorted, 0.95), least: sorted[0], most: sorted.at(-1),
    n: sorted.length,
  };
}
const written = value => {
  const digits = Math.abs(value) >= 100 ? 0 : Math.abs(value) >= 10 ? 1 : Math.abs(value) >= 1 ? 2 : 3;
  return String(Number(value.toFixed(digits)));
};
const shown = f => !f ? 'not measured' : f.n === 1 ? written(f.median)
  : `${written(f.median)} (${written(f.least)} to ${written(f.most)})`;
// ours, theirs: lists of numbers in `unit`.
function row(name, unit, ours, theirs, aim) {
  const a = figure(ours), b = figure(theirs ?? []);
  const ratio = a && b && b.median > 0 ? written(a.median / b.median) : '';
  rows.push([`${name}, ${unit}`, shown(a), theirs ? shown(b) : '', ratio, aim ?? '']);
}
function print(head, lines) {
  const widths = head.map((title, i) => Math.max(title.length, ...lines.map(line => line[i].length)));
  for (const line of [head, widths.map(width => '-'.repeat(width)), ...lines]) {
    console.log(line.map((cell, i) => cell.padEnd(widths[i])).join('  ').trimEnd());
  }
}

// --- inside the page ---

// Before any of the page's scripts: how long each requestAnimationFrame callback took, and what it showed.
function watch() {
  const seen = window.bench = {
    frames: [], puts: 0, area: 0, shift: 0, pending: [], taps: { pointerdown: [], pointerup: [] },
  };
  const request = window.requestAnimationFrame.bind(window);
  window.requestAnimationFrame = call => request(at => {
    const puts = seen.puts;
    seen.area = 0;
    const start = performance.now();
    call(at);
    seen.frames.push({ ms: performance.now() - start, puts: seen.puts - puts, area: seen.area });
  });
  const put = CanvasRenderingContext2D.prototype.putImageData;
  CanvasRenderingContext2D.prototype.putImageData = function (...given) {
    put.apply(this, given);
    ++seen.puts;
    seen.area += given[5] * given[6];
    const now = performance.now();
    for (const [type, since] of seen.pending) seen.taps[type].push(now - since);
    seen.pending = [];
  };
  for (const type of ['pointerdown', 'pointerup']) {
    addEventListener(type, event => seen.pending.push([type, event.timeStamp]), true);
  }
  const now = Date.now;
  Date.now = () => now() + seen.shift;
}

// A whole plan on the screen: red cells, 300 mL, issued now, to be started in ten minutes.
async function fill(tab) {
  await tab.running();
  const clock = m => new Date(Date.now() + m * 60_000).toISOString().slice(11, 16).replace(':', '');
  await tab.tap({ role: 'field', name: 'Component' });
  await tab.tap({ role: 'button', name: 'Red cells' });
  const entries = { 'Volume on the label': '300', 'Issued at': clock(0), 'Start at': clock(10) };
  for (const [name, digits] of Object.entries(entries)) {
    const open = new RegExp(`^${name}`);
    await pause(300);
    if (!await tab.has({ role: 'heading', name: open })) await tab.tap({ role: 'field', name });
    await tab.find({ role: 'heading', name: open });
    await tab.type(digits);
    await tab.key('Enter');
  }
  await pause(300);
  const unset = (await tab.nodes()).filter(node => /Set at the start: not yet/.test(node.name));
  if (unset.length) throw new Error('the plan was not filled in: are its fields called otherwise than here?');
}

// --- the parts ---

function size() {
  const file = readFileSync(page);
  row('size of the page', 'kB', [file.length / 1000], [statSync(stock).size / 1000], 'at most 280');
  notes.push(`the page gzipped: ${written(gzipSync(file, { level: 9 }).length / 1000)} kB`);
}

async function start() {
  const loads = quick ? 3 : 11;
  const engines = { chromium, firefox: () => launch('firefox'), webkit: launchWebKit };
  for (const [engine, begin] of Object.entries(engines)) {
    const browser = await begin();
    const took = { ours: [], theirs: [] };
    const once = async (file, signal) => {
      // WebKit's driver goes on while the page still loads; asking it then would take time away from the
      // page.
      const tab = engine === 'webkit' ? await browser.go(address(file)) : await browser.open(address(file));
      if (engine === 'webkit') await pause(1500);
      const at = await tab.until(`the first frame of ${file}`, () => tab.evaluate(signal), 30_000);
      await tab.close();
      return at;
    };
    let works = true; // the stock page, which needs WebGL
    try {
      for (let i = -1; i < loads; ++i) { // the first of each only warms the disk's cache
        const ours = await once(page, () => window.Hangtime?.firstFrame);
        const theirs = works ? await once(stock, () => window.stockFirstFrame).catch(() => NaN) : NaN;
        works = Number.isFinite(theirs);
        if (i < 0) continue;
        took.ours.push(ours);
        took.theirs.push(theirs);
      }
    } finally {
      await browser.close();
    }
    const name = engine === 'webkit' ? 'WebKit' : called(engine);
    row(`first frame, ${name}`, 'ms', took.ours, took.theirs, 'at most 300, a third of stock');
  }
  notes.push('first frame: from navigation start (performance.now) to the page\'s own signal: ours after the '
    + 'first putImageData, stock after reading back a pixel of its first frame; fresh page each time');
}

// Seconds of user and system time of the browser's processes, by kind.
async function processorTime(browser) {
  const session = await browser.browser.target().createCDPSession();
  const { processInfo } = await session.send('SystemInfo.getProcessInfo');
  await session.detach();
  const ticks = Number(execFileSync('getconf', ['CLK_TCK'], { encoding: 'utf8' }));
  const sums = { renderer: 0, all: 0 };
  for (const { type, id } of processInfo) {
    const fields = readFileSync(`/proc/${id}/stat`, 'utf8').replace(/^.*\) /s, '').split(' ');
    const seconds = (Number(fields[11]) + Number(fields[12])) / ticks;
    sums.all += seconds;
    if (type === 'renderer') sums.renderer += seconds;
  }
  return sums;
}

const counted = tab => tab.evaluate(() => ({ frames: window.bench.frames.length, puts: window.bench.puts }));

async function idleOnce(browser, file, seconds, prepare) {
  const tab = await browser.open(address(file), { init: watch });
  await prepare(tab);
  await pause(5000);
  const before = await counted(tab);
  const used = browser.engine === 'chromium' ? await processorTime(browser) : undefined;
  await pause(seconds * 1000);
  const after = await counted(tab);
  const share = {};
  if (used) {
    const now = await processorTime(browser);
    for (const kind of ['renderer', 'all']) share[kind] = (now[kind] - used[kind]) / seconds * 100;
  }
  const minute = name => (after[name] - before[name]) * 60 / seconds;
  return { frames: minute('frames'), puts: minute('puts'), ...share };
}

async function idle() {
  const long = quick ? 20 : 60, short = quick ? 10 : 30;
  const first = await chromium(), other = await launch('firefox');
  let ours, firefox, theirs;
  try {
    [ours, firefox] = await Promise.all([first, other].map(browser => idleOnce(browser, page, long, fill)));
  } finally {
    await Promise.all([first.close(), other.close()]);
  }
  const second = await chromium();
  try {
    theirs = await idleOnce(second, stock, short,
      tab => tab.until('the first frame', () => tab.evaluate(() => window.stockFirstFrame)));
  } finally {
    await second.close();
  }
  const third = await chromium();
  let empty;
  try {
    const blank = await third.browser.newPage();
    await blank.goto('data:text/html,<title>empty</title>');
    await pause(5000);
    const used = await processorTime(third);
    await pause(long * 1000);
    empty = (await processorTime(third)).renderer - used.renderer;
  } finally {
    await third.close();
  }
  row('idle, Chromium, animation frames', 'a minute', [ours.frames], [theirs.frames], '1');
  row('idle, Chromium, putImageData', 'calls a minute', [ours.puts], undefined, '');
  row('idle, Firefox, animation frames', 'a minute', [firefox.frames], undefined, '1');
  row('idle, Chromium, renderer processes', '% of a CPU', [ours.renderer], [theirs.renderer], 'at most 0.1');
  row('the same for an empty page', '% of a CPU', [empty / long * 100], undefined, '');
  row('idle, Chromium, all processes', '% of a CPU', [ours.all], [theirs.all], '');
  notes.push(`idle: a filled-in plan, ${long} s after 5 s of rest (stock ${short} s, scaled); user and `
    + `system time from /proc, in steps of 0.01 s, so ${written(1 / long)} % is the least that can be seen`);
}

async function frame() {
  const rounds = quick ? 15 : 61;
  const browser = await chromium();
  const take = (tab, wanted) => tab.evaluate(rounds => new Promise(done => {
    window.bench.frames = [];
    const seen = window.bench;
    const look = () => seen.frames.length >= rounds ? done(seen.frames) : setTimeout(look, 50);
    look();
  }), wanted);
  try {
    for (const [name, scale, width, height, aim] of [
      ['1280x800', 1, 1280, 800, 'at most 4'], ['1024x768 double density', 2, 1024, 768, 'at most 16']]) {
      const tab = await browser.open(address(page), { init: watch, width, height, scale });
      await fill(tab);
      // Day and night in turn: each change has one frame that draws every pixel.
      const all = await tab.evaluate(async rounds => {
        window.bench.frames = [];
        for (let i = 0; i < rounds; ++i) {
          const buttons = [...document.querySelectorAll('#mirror button')];
          buttons.find(node => /^(Night|Day) colours/.test(node.textContent)).click();
          await new Promise(done => setTimeout(done, 120));
        }
        return window.bench.frames;
      }, rounds);
      const pixels = width * height * scale * scale;
      const whole = all.filter(one => one.area >= pixels * 0.95).map(one => one.ms);
      row(`frame, every pixel drawn, ${name}`, 'ms', whole, undefined, aim);
      if (whole.length < rounds * 0.8) {
        notes.push(`${name}: only ${whole.length} of ${rounds} frames drew every pixel`);
      }

      // The clock goes on by a minute, nothing else happens.
      const clock = await tab.evaluate(async rounds => {
        window.bench.frames = [];
        for (let i = 0; i < rounds; ++i) {
          window.bench.shift += 60_000;
          window.Hangtime.ask();
          await new Promise(done => setTimeout(done, 60));
        }
        return window.bench.frames;
      }, rounds);
      const changed = clock.filter(one => one.puts > 0);
      const times = changed.map(one => one.ms), area = figure(changed.map(one => one.area));
      row(`frame, only the clock changed, ${name}`, 'ms', times, undefined, scale === 1 ? 'at most 1' : '');
      notes.push(`${name}: when only the clock changed, ${area ? written(area.median / pixels * 100) : 0} % `
        + 'of the pixels were shown anew');
      await tab.close();
    }
    const tab = await browser.open(address(stock), { init: watch, width: 1280, height: 800 });
    await tab.until('the first frame', () => tab.evaluate(() => window.stockFirstFrame));
    const theirs = (await take(tab, rounds)).map(one => one.ms);
    notes.push(`stock: ${shown(figure(theirs))} ms a frame in its animation callback, without the drawing, `
      + 'which another process does');
  } finally {
    await browser.close();
  }
  notes.push('frame: building, drawing and showing, measured in Chromium around the requestAnimationFrame '
    + 'callback; its clock has steps of 0.1 ms');
}

async function tap() {
  const taps = quick ? 20 : 80;
  for (const engine of ['chromium', 'firefox']) {
    const browser = engine === 'chromium' ? await chromium() : await launch('firefox');
    try {
      const tab = await browser.open(address(page), { init: watch });
      await fill(tab);
      await tab.tap({ role: 'field', name: 'Volume on the label' });
      const keys = [];
      for (const key of ['7', /^Delete/]) keys.push(await tab.middle({ role: 'button', name: key }));
      await tab.evaluate(() => { window.bench.taps = { pointerdown: [], pointerup: [] }; });
      for (let i = 0; i < taps; ++i) {
        await tab.press(...keys[i % 2]);
        await pause(90 + i % 17); // so that the taps come at all phases of a frame
      }
      const { pointerdown, pointerup } = await tab.evaluate(() => window.bench.taps);
      const name = called(engine);
      row(`tap to pixels, ${name}`, 'ms', pointerup, undefined, 'at most 33');
      const late = f => f ? `median ${written(f.median)}, 95th percentile ${written(f.p95)} ms` : 'none';
      notes.push(`taps on the keypad, ${name}: ${pointerup.length} of ${taps} gave a picture; from lifting `
        + `${late(figure(pointerup))}; from touching ${late(figure(pointerdown))}`);
    } finally {
      await browser.close();
    }
  }
  notes.push('tap to pixels: from lifting (the event\'s own time stamp) to the end of putImageData; a wait '
    + 'for the next frame of the screen, up to 17 ms, is part of it; Firefox tells time in steps of 1 ms');
}

function core() {
  const root = join(dirname(new URL(import.meta.url).pathname), '../..');
  const read = (program, given) => execFileSync(program, given, {
    encoding: 'utf8', env: { ...process.env, HANGTIME_ROOT: root },
  }).trim().split('\n').map(line => line.split('\t')).map(([name, , ...numbers]) => {
    const [median, least, most, p95, allocations] = numbers.map(Number);
    return { name: name.replace(/^reckon, /, ''), median, least, most, p95, allocations };
  });
  const native = read(nativeBench, []);
  const wasm = read(process.execPath, ['--no-experimental-fetch', wasmBench]);
  const lines = native.map((one, i) => {
    const other = wasm[i];
    if (one.name !== other.name) throw new Error('the two programs measured different plans');
    const range = f => `${Math.round(f.median)} (${[f.least, f.p95, f.most].map(Math.round).join(', ')})`;
    const calls = `${one.allocations}, ${other.allocations}`;
    return [one.name, range(one), range(other), (other.median / one.median).toFixed(2), calls];
  });
  const over = list => list.map(one => one.median);
  row('reckon natively, medians of the plans', 'ns', over(native), undefined, 'at most 3000');
  row('reckon as WebAssembly, medians of the plans', 'ns', over(wasm), undefined, '');
  const times = native.map((one, i) => wasm[i].median / one.median);
  row('reckon, WebAssembly by native', 'times', times, undefined, 'at most 1.5');
  const calls = [...native, ...wasm].map(one => one.allocations);
  row('reckon, calls of operator new', 'each of both', calls, undefined, '0');
  return lines;
}

// What a log of 10, 1,000 and 100,000 records takes, natively and as WebAssembly.
function log() {
  const root = join(dirname(new URL(import.meta.url).pathname), '../..');
  const read = (program, given) => execFileSync(program, given, {
    encoding: 'utf8', env: { ...process.env, HANGTIME_ROOT: root },
  }).trim().split('\n').map(line => line.split('\t')).map(([name, , ...numbers]) => [name, numbers.slice(0, 4).map(Number)]);
  const aims = { 'fold, 100000 records': 'at most 50', 'one more record, 100000 records': 'as with 10' };
  for (const [where, lines] of [['natively', read(nativeBench, ['log'])],
    ['as WebAssembly', read(process.execPath, ['--no-experimental-fetch', wasmBench, 'log'])]])
    for (const [name, figures] of lines) row(`${name}, ${where}`, 'ms', figures, undefined, aims[name] ?? '');
}

// A rehearsal at 240 times while the bag runs: every frame that is drawn for it.
async function rehearse() {
  const browser = await chromium();
  try {
    for (const [name, scale, width, height] of [['1280x800', 1, 1280, 800], ['1024x768 double density', 2, 1024, 768]]) {
      const tab = await browser.open(address(page), { init: watch, width, height, scale });
      await tab.running();
      const bed = new Bedside(tab);
      for (const press of [/^(Sessions|\d+ sessions?)$/, /^More: /, /^Rehearse/]) await bed.press(press);
      await tab.until('the right to write', async () =>
        (await tab.nodes()).some(node => node.name === 'Case number ...' && !node.disabled));
      await bed.press('Case number ...');
      await bed.keys('1001');
      for (const press of ['Begin this case', 'Call for the unit', /^To what is due next$/, 'Go on', 'Match']) await bed.press(press);
      await bed.match();
      await bed.hang();
      await bed.start();
      await bed.press('Run');
      await bed.press('240\u00d7');
      const frames = await tab.evaluate(ms => new Promise(done => {
        window.bench.frames = [];
        setTimeout(() => done(window.bench.frames), ms);
      }), quick ? 6_000 : 20_000);
      const times = frames.filter(one => one.puts > 0).map(one => one.ms);
      row(`frame of a rehearsal at 240 times, ${name}`, 'ms', times, undefined, 'under 16');
      const over = times.filter(ms => ms >= 16).length;
      notes.push(`rehearsal at 240 times, ${name}: ${times.length} frames, ${over} of them 16 ms or longer`);
      await tab.close();
    }
  } finally {
    await browser.close();
  }
}

// --- a session ---

// `watch` and what session.mjs adds to it, as one function for the page.
const watchBoth = new Function(`(${watch})();(${watchStore})();`);

async function save() {
  const browser = await chromium();
  try {
    const tab = await browser.open(address(page), { init: watchBoth });
    const { wanted, disk, screen } = await saves(tab, quick ? 30 : 300);
    for (const [name, values, aim] of [['the disk', disk, ''], ['"saved" on the screen', screen, '95th percentile at most 25']]) {
      row(`tap to ${name}, Chromium`, 'ms', values, undefined, aim);
      const f = figure(values);
      notes.push(`tap to ${name}: ${values.length} of ${wanted} records; 95th percentile ${f ? written(f.p95) : 'none'} ms`);
    }
  } finally {
    await browser.close();
  }
  notes.push('tap to saved: from lifting to the store\'s answer (strict durability, this machine\'s disk), and to the end '
    + 'of the picture after it');
}

async function burst() {
  const wanted = quick ? 600 : 10_000;
  const browser = await chromium();
  try {
    const tab = await browser.open(address(page), { init: watch });
    await fill(tab);
    await tab.tap({ role: 'field', name: 'Volume on the label' });
    const keys = [];
    for (const key of ['7', /^Delete/]) keys.push(await tab.middle({ role: 'button', name: key }));
    const { took, rate } = await quickTaps(tab, keys, wanted, 30);
    const late = took.filter(ms => ms > 100).length, f = figure(took);
    row(`${wanted} taps at 30 a second: later than 100 ms`, 'taps', [late + wanted - took.length], undefined, '0');
    row('the same: tap to pixels', 'ms', took, undefined, 'at most 100');
    notes.push(`quick taps: ${took.length} of ${wanted} gave a picture, ${written(rate)} a second; 95th percentile `
      + `${f ? written(f.p95) : 'none'} ms`);
  } finally {
    await browser.close();
  }
}

// Memory, and the processor, while a session runs and nobody touches it.
async function live() {
  const seconds = quick ? 20 : 60;
  const browser = await chromium();
  try {
    const tab = await browser.open(address(page), { init: watch });
    const fresh = await memory(browser, tab);
    await untilRunning(tab);
    await pause(5000);
    const before = await counted(tab), used = await processorTime(browser);
    await pause(seconds * 1000);
    const after = await counted(tab), now = await processorTime(browser);
    const running = await memory(browser, tab);
    row('memory of the renderer, a session runs', 'MB', [running.renderer], undefined, '');
    row('the same, page just opened', 'MB', [fresh.renderer], undefined, '');
    row('idle with a running session, Chromium, renderer processes', '% of a CPU',
      [(now.renderer - used.renderer) / seconds * 100], undefined, '');
    row('the same, animation frames', 'a minute', [(after.frames - before.frames) * 60 / seconds], undefined, '');
    notes.push(`a session that runs: ${seconds} s after 5 s of rest; memory is the proportional set size of the largest renderer`
      + (Number.isFinite(running.heap) ? `, of which ${written(running.heap)} MB are the WebAssembly's` : ''));
  } finally {
    await browser.close();
  }
}

// --- all of it ---

const kinds = { size, start, frame, tap, idle, save, burst, live, core, log, rehearse };
const wanted = parts.length ? parts : Object.keys(kinds);
const loadAtStart = loadavg()[0];
let plans;
for (const kind of Object.keys(kinds)) {
  if (!wanted.includes(kind)) continue;
  try {
    const given = await kinds[kind]();
    if (kind === 'core') plans = given;
  } catch (error) {
    rows.push([`${kind}: not measured`, error.message.split('\n')[0].slice(0, 90), '', '', '']);
    process.exitCode = 1;
  }
}
print(['figure, unit', 'ours: median (least to most)', 'stock page', 'ratio', 'aim'], rows);
if (plans) {
  console.log();
  const head = 'reckon, ns: median (least, 95th percentile, most)';
  print([head, 'native', 'WebAssembly', 'ratio', 'operator new'], plans);
}
console.log();
for (const note of notes) console.log(note);
console.log('Chromium ran with --enable-unsafe-swiftshader: without it the stock page has no WebGL without '
  + 'a GPU');
console.log('Firefox ran without a window but with an X server, which gives the stock page '
  + 'its WebGL in software');
console.log(`load of the machine: ${written(loadAtStart)} before, ${written(loadavg()[0])} after`);
