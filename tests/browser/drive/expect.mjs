// What several tests look for, and how.

import assert from 'node:assert/strict';
import { enterByTaps, expectWorkedCase, fields } from './entries.mjs';
import { everyRecord } from './in_page.mjs';
import { pause } from './index.mjs';
import { coloursOf } from './png.mjs';

// Design section 8.
export const day = { ground: '#F7F3EA', ink: '#1B262C' };
export const night = { ground: '#12181C', ink: '#E6E1D6' };

export const share = (colours, colour) =>
  (colours.get(colour) ?? 0) / [...colours.values()].reduce((a, b) => a + b, 0);

// The ground fills a good part of the picture, the ink a little, and there are edges between them.
export function expectPalette(picture, { ground, ink }) {
  const colours = coloursOf(picture);
  const found = JSON.stringify([...colours].slice(0, 6));
  assert.ok(share(colours, ground) > 0.1, `a tenth of the picture has the ground ${ground}: ${found}`);
  assert.ok((colours.get(ink) ?? 0) > 100, `something is written in ${ink}: ${found}`);
  assert.ok(colours.size > 40, `letters have soft edges: ${colours.size} colours`);
}

export function expectQuiet(page) {
  assert.deepEqual(page.errors, [], 'no exception');
  assert.deepEqual(
    page.console.filter(line => /^(error|warn)/.test(line)),
    [],
    'nothing on the console',
  );
}

// The last of the limits, scrolled as far down as it goes: its sum must not stand where nobody sees it.
export async function expectSumInSight(page) {
  const last = { role: 'button', name: /^Change the set by: / };
  await page.show({ role: 'text', name: /^The time of spiking/ });
  const { height } = await page.state();
  await page.show(last);
  await page.tap(last);
  const sum = await page.find({ role: 'text', name: /13:52 \+ 4 h = 17:52/ });
  assert.ok(
    sum.box.y > 50 && sum.box.y + sum.box.height < height,
    `the sum is in sight: ${JSON.stringify(sum.box)}`,
  );
  await page.tap(last);
  await page.until('the sum to close', async () => (await page.find(last)).expanded === 'false');
}

// Scans while a keypad is open, and holds everything against how it was before. Returns the longest time
// between two keys, in milliseconds; nothing was checked if that is more than a scanner's.
export async function scanIsNotTaken(page, text, end) {
  await enterByTaps(page);
  await expectWorkedCase(page);
  await page.tap({ role: 'field', name: fields.volume });
  await page.find({ role: 'button', name: 'Clear the entry' });
  const entries = async () =>
    (await page.nodes()).filter(node => node.role === 'field').map(node => `${node.name} ${node.value}`);
  const headings = async () =>
    (await page.nodes()).filter(node => node.role === 'heading').map(node => node.name);
  const [entriesBefore, headingsBefore] = [await entries(), await headings()];
  await page.evaluate(() => {
    globalThis.keyTimes = [];
    addEventListener('keydown', event => globalThis.keyTimes.push(event.timeStamp), true);
  });
  await page.scan(text, end);
  const times = await page.until('every key', async () => {
    const seen = await page.evaluate(() => globalThis.keyTimes);
    return seen.length > text.length && seen;
  });
  const gap = Math.max(...times.slice(1).map((at, i) => at - times[i]));
  if (gap >= 30) return gap;

  await page.says('That was a scan.');
  assert.deepEqual(await entries(), entriesBefore, 'the entries are as they were');
  assert.deepEqual(await headings(), headingsBefore, 'no button was pressed');
  await expectWorkedCase(page);
  const { dom, title, stored, address, live } = await page.state();
  const kept = await page.evaluate(everyRecord);
  assert.ok(kept.includes('hangtime'), 'the store is open, and was read');
  const everything = [dom, title, stored, address, live, kept, ...page.console, ...page.errors].join('\n');
  // Any five signs in a row of what was scanned.
  for (let i = 0; i + 5 <= text.length; ++i) {
    assert.ok(!everything.includes(text.slice(i, i + 5)), `"${text.slice(i, i + 5)}" stands nowhere`);
  }
  // A person who puts the scanner down and types goes on as before. The pause is a part of the rule: what
  // comes within 150 ms of a burst belongs to it.
  await pause(250);
  await page.key('Delete');
  await page.type('250', 90);
  await page.find({ role: 'field', name: fields.volume, value: /^250 mL/ });
  return gap;
}

// Everything that can be touched is at least 44 CSS pixels, and 8 from the next (design section 8).
export function expectFingers(nodes) {
  const touched = nodes.filter(node => node.role === 'button' || node.role === 'field');
  for (const { name, box } of touched)
    assert.ok(box.width >= 44 && box.height >= 44, `${name} is large enough: ${JSON.stringify(box)}`);
  for (const [i, one] of touched.entries()) {
    for (const other of touched.slice(i + 1)) {
      const across = Math.max(
        other.box.x - one.box.x - one.box.width,
        one.box.x - other.box.x - other.box.width,
      );
      const down = Math.max(
        other.box.y - one.box.y - one.box.height,
        one.box.y - other.box.y - other.box.height,
      );
      assert.ok(
        Math.max(across, down) >= 7.5,
        `${one.name} and ${other.name} are ${Math.max(across, down)} px apart`,
      );
    }
  }
}
