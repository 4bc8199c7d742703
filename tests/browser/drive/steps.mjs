// What the tests of every engine do and look for: the page, the clock, the four entries of the worked case.
//
// The case: red cells, 316 mL, issued 13:40, started 13:52; 50 mL/h for 15 minutes, all in 2 h after the start.
// By hand: 12.5 mL in the first stage; (316 - 12.5) mL / 1.75 h = 173.43 mL/h, set 174 mL/h;
// 303.5 mL / 174 mL/h = 1 h 44 min 40 s (to a second's rounding), so all in at 15:51:40. Started within 30 minutes
// of the issue and all in within 4 h of it (common practice, no source): 14:10 and 17:40.

import assert from 'node:assert/strict';
import { existsSync } from 'node:fs';
import { fileURLToPath, pathToFileURL } from 'node:url';

const file = process.env.HANGTIME_PAGE ?? fileURLToPath(new URL('../../../build/hangtime.html', import.meta.url));
if (!existsSync(file)) throw new Error(`there is no page at ${file}; build it by scripts/start or name it in HANGTIME_PAGE`);
export const address = pathToFileURL(file).href;

// A zone in which it is between 12:00 and 12:59 now, so that 13:40 is always the next one. "Etc/GMT-3" is three
// hours east of Greenwich.
const east = 12 - new Date().getUTCHours();
export const zone = east === 0 ? 'Etc/UTC' : `Etc/GMT${east > 0 ? '-' : '+'}${Math.abs(east)}`;

export const answers = ['174 mL/h', '14:10', '17:40', '15:51:40'];
export const ground = { day: '#F7F3EA', night: '#12181C' };

const field = name => ({ role: 'field', name });
const button = name => ({ role: 'button', name });
const entries = [['Volume on the label', '316', '316 mL'], ['Issued at', '1340', /^13:40/], ['Start at', '1352', /^13:52/]];

// By taps alone: every digit and the confirming key of the pad.
export async function enterByTaps(page) {
  await page.tap(field('Component'));
  await page.tap(button('Red cells'));
  await page.find({ ...field('Component'), value: 'Red cells' });
  for (const [name, digits, value] of entries) {
    await padOf(page, name); // the next entry opens by itself
    for (const digit of digits) await page.tap(button(digit));
    await page.find({ ...field(name), value });
    await page.tap(button(/^(Next|Done)$/));
  }
}

const padOf = (page, name) => page.until(`the keypad of ${name}`, async () => (await page.nodes())
  .some(node => node.role === 'heading' && node.name.startsWith(name)));

// Without a pointer: Tab to the component, Enter, arrows or Tab to the choice, then digits and Enter.
export async function enterByKeys(page) {
  const focused = async wanted => (await page.evaluate(() => document.activeElement.getAttribute('aria-label')
    ?? document.activeElement.textContent)) === wanted;
  const tabTo = async wanted => {
    for (let turn = 0; turn < 40; ++turn) {
      if (await focused(wanted)) return;
      await page.key('Tab');
    }
    throw new Error(`${page.engine}: 40 times Tab did not reach ${wanted}`);
  };
  await tabTo('Component');
  await page.key('Enter');
  await page.find(button('Red cells'));
  await tabTo('Red cells');
  await page.key('Enter');
  await page.find({ ...field('Component'), value: 'Red cells' });
  for (const [name, digits, value] of entries) {
    await padOf(page, name);
    await page.type(digits);
    await page.find({ ...field(name), value });
    await page.key('Enter');
  }
}

export async function hasAnswers(page) {
  await page.says(/^Then set.*174 mL\/h/);
  const shown = (await page.nodes()).filter(node => node.role === 'button').map(node => node.name);
  const of = start => shown.find(name => name.startsWith(start)) ?? 'nothing';
  assert.match(of('Then set'), /174 mL\/h/);
  assert.match(of('Start by'), /14:10\b/);
  assert.match(of('All in by, latest'), /17:40\b/);
  assert.match(of('All in, expected'), /15:51:40/);
  assert.match((await page.state()).live, /^Fits/);
}
