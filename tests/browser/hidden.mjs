// scripts/hidden: a reminder each minute in a hidden tab; how late each comes.
//
// Chromium with a window (that needs no screen) and two tabs, the second of which was never shown, and without any
// remote control: what drives a browser also keeps its tabs awake. The page tells this program what happens.

import { spawn } from 'node:child_process';
import { createServer } from 'node:http';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { barePage } from './drive/bare.mjs';
import { chromiumArguments, programOf } from './drive/puppeteer.mjs';
import { family, killAll } from './drive/kill.mjs';

const minutes = Number(process.argv[2]);
const pause = ms => new Promise(done => setTimeout(done, ms));

// Runs in the page after the product's scripts.
function remindAgainAndAgain({ port }) {
  const { bare, Module } = globalThis;
  let gap = 0,
    before = Date.now();
  // What the browser does to a hidden page's own timers, for comparison.
  const own = () => {
    gap = Math.max(gap, Date.now() - before);
    before = Date.now();
    setTimeout(own, 1000);
  };
  setTimeout(own, 1000);
  const next = () => bare.remindIn(58_000 + Math.random() * 2000);
  const tick = Module._ht_tick;
  Module._ht_tick = () => {
    const { length } = bare.wakings;
    tick();
    if (bare.wakings.length === length) return;
    const said = [bare.wakings.at(-1), gap, document.hidden, document.title];
    fetch(`http://127.0.0.1:${port}/`, { method: 'POST', mode: 'no-cors', body: JSON.stringify(said) });
    next();
  };
  next();
}

const folder = mkdtempSync(join(tmpdir(), 'hangtime-hidden-'));
const late = [];
let ownTimer = 0,
  title = '',
  shown = 0;
const server = createServer((request, response) => {
  const parts = [];
  request.on('data', part => parts.push(part));
  request.on('end', () => {
    const [ms, gap, hidden, words] = JSON.parse(Buffer.concat(parts));
    late.push(ms);
    ownTimer = Math.max(ownTimer, gap);
    title = words;
    if (!hidden) ++shown;
    response.statusCode = 204;
    response.end();
  });
});
await new Promise(done => server.listen(0, '127.0.0.1', done));
const { port } = server.address();
const file = join(folder, 'page.html');
writeFileSync(file, barePage({ after: remindAgainAndAgain, given: { port }, reports: port }));
const browser = spawn(
  programOf('chromium'),
  [
    '--ozone-platform=headless',
    `--user-data-dir=${join(folder, 'profile')}`,
    ...chromiumArguments,
    'about:blank',
    String(pathToFileURL(file)),
  ],
  { stdio: 'ignore' },
);
try {
  await pause(minutes * 60_000 + 10_000); // the very thing that is measured
  const worst = Math.max(...late);
  console.log(
    `chromium, hidden for ${minutes} min: ${late.length} reminders, the latest ${worst} ms late ` +
      `(the page's own timer of 1 s took up to ${ownTimer} ms); title "${title}"`,
  );
  if (shown > 0) console.log(`${shown} of them came while the tab was shown: this says nothing`);
  process.exitCode = late.length >= minutes * 0.9 && worst <= 2000 && shown === 0 ? 0 : 1;
} finally {
  await killAll(family(browser.pid).map(([pid]) => pid));
  server.closeAllConnections();
  server.close();
  rmSync(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
}
