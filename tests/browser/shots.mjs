// Pictures of every screen, for people to look at: node tests/browser/shots.mjs [FOLDER]
//
// At four sizes, by day and by night, into build/shots (or FOLDER); and the printed sheet, page by page, on
// A4 and on Letter. Not a test: nothing is compared.

import { execFileSync } from 'node:child_process';
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { closed, enterByTaps, fields, tapKeys, workedCase } from './drive/entries.mjs';
import { Bedside } from './drive/bedside.mjs';
import { launch, pageAddress, root } from './drive/index.mjs';
import { wideSizes } from './samples.mjs';

const folder = process.argv[2] ?? join(root, 'build/shots');
rmSync(folder, { recursive: true, force: true });
mkdirSync(folder, { recursive: true });

const field = name => ({ role: 'field', name });
const button = name => ({ role: 'button', name });

const choose = async (page, name, value) => {
  await page.show(field(name));
  await page.tap(field(name));
  await page.tap(button(value));
  await page.until('the choices to close', async () => !(await page.has(button(value))));
};
const type = async (page, name, digits) => {
  await page.show(field(name));
  await page.tap(field(name));
  await tapKeys(page, digits);
  await page.tap(button(/^(Next|Done)$/));
  await closed(page);
};
const more = async page => {
  await page.tap(button(/^More/));
  await page.find(button(/^Back/));
};
const back = async page => {
  await page.tap(button(/^Back/));
  await page.find(button(/^More/));
};

// Each starts from a page that was just opened.
const screens = {
  empty: async () => {},
  components: page => page.tap(field(fields.component)),
  'not-covered': page => choose(page, fields.component, 'Albumin'),
  keypad: async page => {
    await page.tap(field(fields.component));
    await page.tap(button('Red cells'));
    await tapKeys(page, '31');
  },
  'keypad-time': async page => {
    await page.tap(field(fields.component));
    await page.tap(button('Red cells'));
    await tapKeys(page, workedCase.volume);
    await page.tap(button('Next'));
    await page.find({ role: 'heading', name: /^Issued/ });
    await tapKeys(page, '134');
  },
  plan: page => enterByTaps(page),
  sum: async page => {
    await enterByTaps(page);
    await page.tap(button(/^Then set/));
  },
  'further-down': async page => {
    await enterByTaps(page);
    await page.show({ role: 'text', name: /^The time of spiking/ });
  },
  more: async page => {
    await enterByTaps(page);
    await more(page);
  },
  rules: async page => {
    await enterByTaps(page);
    await page.tap(field('Rules'));
  },
  'does-not-fit': async page => {
    await enterByTaps(page, { ...workedCase, volume: '500', start: '14:05' });
    await more(page);
    await type(page, 'Weight', '60');
    await choose(page, 'Risk of overload', 'yes');
    await back(page);
  },
  gravity: async page => {
    await enterByTaps(page);
    await more(page);
    await choose(page, 'Pump or gravity', 'gravity');
    await back(page);
  },
  'saline-line': async page => {
    await enterByTaps(page);
    await more(page);
    await choose(page, 'Line primed with', 'saline');
    await back(page);
  },
  'too-late': page => enterByTaps(page, { ...workedCase, start: '14:30' }),
  refused: async page => {
    await page.tap(field(fields.component));
    await page.tap(button('Red cells'));
    await tapKeys(page, '9999');
  },
  child: async page => {
    await page.tap(field('Rules'));
    await page.tap(button(/child/i));
    await page.until('the choices to close', async () => !(await page.has(button(/child/i))));
    await enterByTaps(page, { ...workedCase, volume: '205' }).catch(() => {});
  },
  scan: async page => {
    await enterByTaps(page);
    await page.scan('8018990000000000004217');
    await page.says('That was a scan.');
  },
  about: async page => {
    await page.tap(button(/^About/));
    await page.until('the dialog', () => page.evaluate(() => document.getElementById('about').open));
  },
};

// The way of one session, with a picture of each of its screens.
const live = async (page, picture) => {
  const bed = new Bedside(page);
  await bed.open();
  await picture('opened');
  await bed.order();
  await bed.getReady();
  await picture('ready');
  await bed.callAndIssue();
  await picture('match');
  await bed.match();
  await picture('unit');
  await bed.hang();
  await bed.press(/^Start at 50 mL\/h/);
  await picture('start');
  await bed.keys('50');
  await bed.press('Start');
  await bed.press('Observations at the start');
  await picture('run');
  await bed.pass(16);
  await picture('run-due');
  for (const tab of ['End', 'Hand over', 'Records']) {
    await bed.press(tab);
    await picture(tab.toLowerCase().replace(' ', '-'));
  }
  await bed.press('Run');
  await bed.press('Pause');
  await picture('choices');
  await bed.press('Back');
  await bed.press(/^(Sessions|All sessions)$/);
  await picture('front');
};

const only = process.env.ONLY?.split(',');
const browser = await launch('chromium');
try {
  for (const { width, height, scale } of wideSizes) {
    for (const dark of [false, true]) {
      for (const [name, go] of Object.entries(screens)) {
        if (only && !only.includes(name)) continue;
        const page = await browser.open(pageAddress, { width, height, scale, dark });
        const size = `${width}x${height}${scale > 1 ? `@${scale}` : ''}`;
        const file = `${name}-${size}-${dark ? 'night' : 'day'}.png`;
        try {
          await page.running();
          await go(page);
          writeFileSync(join(folder, file), (await page.screenshot()).file);
        } catch (error) {
          console.error(`${file}: ${error.message.split('\n')[0]}`);
          process.exitCode = 1;
        } finally {
          await page.close();
        }
      }
    }
  }
  for (const { width, height, scale } of wideSizes) {
    for (const dark of [false, true]) {
      if ((only && !only.includes('live')) || scale > 1 || width > 1280) continue; // it takes a while
      const page = await browser.open(pageAddress, { width, height, scale, dark });
      const size = `${width}x${height}${scale > 1 ? `@${scale}` : ''}-${dark ? 'night' : 'day'}`;
      try {
        await page.running();
        await live(page, async name =>
          writeFileSync(join(folder, `live-${name}-${size}.png`), (await page.screenshot()).file),
        );
      } catch (error) {
        console.error(`live-${size}: ${error.message.split('\n')[0]}`);
        process.exitCode = 1;
      } finally {
        await page.close();
      }
    }
  }
  for (const [name, go] of Object.entries(screens)) {
    if (!['plan', 'does-not-fit', 'gravity'].includes(name) || (only && !only.includes(name))) continue;
    const page = await browser.open(pageAddress);
    await page.running();
    await go(page);
    for (const format of ['a4', 'letter']) {
      const pdf = join(folder, `sheet-${name}-${format}.pdf`);
      writeFileSync(pdf, await page.tab.pdf({ format }));
      execFileSync('pdftoppm', ['-r', '80', '-png', pdf, pdf.replace('.pdf', '')]);
    }
    await page.close();
  }
} finally {
  await browser.close();
}
console.log(`pictures in ${folder}`);
