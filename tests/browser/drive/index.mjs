// Where the tests come in: which page, which engine, at which time of the day.

import { fileURLToPath, pathToFileURL } from 'node:url';
import { existsSync } from 'node:fs';
import * as webkit from './webkit.mjs';
import * as viaPuppeteer from './puppeteer.mjs';

export const root = process.env.HANGTIME_ROOT ?? fileURLToPath(new URL('../../..', import.meta.url));
export const pageFile = process.env.HANGTIME_PAGE ?? `${root}/build/hangtime.html`;
if (!existsSync(pageFile)) throw new Error(`there is no page at ${pageFile}; run scripts/start`);
export const pageAddress = String(pathToFileURL(pageFile));

// A zone in which it is now the given hour: the page reads the machine's clock, and the worked case must lie
// ahead of it by less than half a day, whenever the tests run. (In these names "+" is west of Greenwich.)
export function zoneAtHour(hour, now = new Date()) {
  let east = (hour - now.getUTCHours() + 24) % 24;
  if (east > 14) east -= 24;
  return east === 0 ? 'Etc/UTC' : `Etc/GMT${east > 0 ? '-' : '+'}${Math.abs(east)}`;
}

// engine: chromium, firefox or webkit. options: see puppeteer.mjs and webkit.mjs.
export function launch(engine, options = {}) {
  const given = { zone: zoneAtHour(12), ...options };
  return engine === 'webkit' ? webkit.launch(given) : viaPuppeteer.launch(engine, given);
}

export const pause = ms => new Promise(done => setTimeout(done, ms));
