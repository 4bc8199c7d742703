// For those who use the page without seeing it: axe-core, the accessibility tree as Chromium gives it to a
// screen reader, and where the focus goes.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { after, before, describe, test } from 'node:test';
import { closed, enterByTaps, expectWorkedCase, fields, tabTo } from './drive/entries.mjs';
import { Bedside } from './drive/bedside.mjs';
import { launch, pageAddress } from './drive/index.mjs';

const axe = readFileSync(new URL('./node_modules/axe-core/axe.min.js', import.meta.url), 'utf8');

// Both what axe is sure of and what it asks a person to look at, as "rule: where".
async function complaints(page, part) {
  if (!(await page.evaluate(() => 'axe' in globalThis))) await page.evaluate(`${axe};0`);
  return page.evaluate(async part => {
    const { violations, incomplete, passes } = await globalThis.axe.run(part ?? document);
    if (passes.length < 5) return [`axe looked at almost nothing: ${passes.length} rules`];
    return [...violations, ...incomplete].map(
      ({ id, nodes }) => `${id}: ${nodes.map(node => node.html.slice(0, 150))}`,
    );
  }, part);
}

describe('accessibility', { concurrency: 1 }, () => {
  let browser, page;
  before(async () => {
    browser = await launch('chromium');
  });
  after(async () => {
    await browser?.close();
  });

  const onPage = (name, body) =>
    test(name, { timeout: 600_000 }, async () => {
      page = await browser.open(pageAddress);
      try {
        await page.running();
        await body();
      } finally {
        await page.close();
      }
    });

  onPage('axe finds what is planted', async () => {
    await page.evaluate(() => {
      const bare = document.createElement('input');
      document.getElementById('mirror').append(bare, document.createElement('button'));
    });
    const found = (await complaints(page)).join('\n');
    assert.match(found, /^label: /m);
    assert.match(found, /^button-name: /m);
  });

  onPage('axe finds nothing on any screen', async () => {
    const nothing = async where => assert.deepEqual(await complaints(page), [], where);
    await nothing('the empty plan');
    await page.tap({ role: 'field', name: fields.component });
    await page.find({ role: 'button', name: 'Red cells' });
    await nothing('the components');
    await page.tap({ role: 'button', name: 'Albumin' });
    await page.says('Not covered here, follow');
    await nothing('a component that is not covered');
    await page.tap({ role: 'field', name: fields.component });
    await page.tap({ role: 'button', name: 'Red cells' });
    await page.find({ role: 'button', name: 'Clear the entry' });
    await nothing('the keypad');
    await page.tap({ role: 'field', name: fields.volume });
    await page.reload();
    await page.running();
    await enterByTaps(page);
    await nothing('a plan');
    await page.tap({ role: 'button', name: /^Then set/ });
    await page.until(
      'the sum',
      async () => (await page.find({ role: 'button', name: /^Then set/ })).expanded === 'true',
    );
    await nothing('a sum');
    await page.tap({ role: 'button', name: /^More/ });
    await page.find({ role: 'button', name: /^Back/ });
    await nothing('the further entries');
    await page.resizeAndSettle(768, 1024);
    await page.until(
      'the narrow screen',
      async () =>
        (await page.state()).width === 768 &&
        (await page.find({ role: 'button', name: /^Back/ })).box.width > 500,
    );
    await nothing('the narrow screen');
  });

  onPage('axe finds nothing on the words about the page and the licences', async () => {
    await page.tap({ role: 'button', name: /^About/ });
    await page.until('the dialog', () => page.evaluate(() => document.getElementById('about').open));
    const words = await page.evaluate(() => document.getElementById('about').innerText);
    for (const name of [
      'Dear ImGui',
      'nlohmann_json',
      'Emscripten',
      'musl',
      'B612',
      'SIL OPEN FONT LICENSE',
      'MIT License',
    ]) {
      assert.ok(words.toLowerCase().includes(name.toLowerCase()), `the licences name ${name}`);
    }
    assert.match(words, /not a medical device/);
    assert.deepEqual(await complaints(page), []);
    // Escape closes it, as it does every dialog, and the page goes on.
    await page.key('Escape');
    await page.until('the dialog to close', () =>
      page.evaluate(() => !document.getElementById('about').open),
    );
    await page.tap({ role: 'field', name: fields.component });
    await page.find({ role: 'button', name: 'Red cells' });
  });

  onPage('axe finds nothing on the sheet that is printed', async () => {
    await enterByTaps(page);
    await expectWorkedCase(page);
    await page.evaluate(() => {
      dispatchEvent(new Event('beforeprint'));
    });
    await page.tab.emulateMediaType('print');
    assert.ok(
      await page.evaluate(() => document.getElementById('print').innerText.length > 500),
      'the sheet is there',
    );
    assert.deepEqual(await complaints(page, '#print'), []);
  });

  onPage('the sheet of a session is read on the screen as text, by keyboard, and axe finds nothing on it', async () => {
    await new Bedside(page).open();
    await page.tap({ role: 'button', name: 'Records' });
    await tabTo(page, { role: 'button', name: 'Read the sheet' });
    await page.key('Enter');
    await page.until('the sheet', () => page.evaluate(() => document.getElementById('reading')?.open));
    const text = await page.evaluate(() => document.querySelector('#reading .sheet').innerText);
    assert.ok(text.length > 500, 'the sheet is there');
    assert.match(text, /What happened/);
    assert.match(text, /not a medical device/);
    assert.deepEqual(await complaints(page, '#reading'), []);
    await page.key('Escape');
    await page.until('the sheet to close', () =>
      page.evaluate(() => !document.getElementById('reading').open),
    );
    assert.equal(await page.evaluate(() => document.querySelector('#reading .sheet')), null);
    await page.find({ role: 'button', name: 'Read the sheet' });
  });

  onPage('a screen reader is given every node, with its role, its name and its value', async () => {
    await enterByTaps(page);
    await expectWorkedCase(page);
    const session = await page.tab.createCDPSession();
    const { nodes: tree } = await session.send('Accessibility.getFullAXTree');
    const given = tree
      .filter(node => !node.ignored)
      .map(
        ({ role, name, value }) =>
          `${role?.value} ${name?.value ?? ''}${role?.value === 'textbox' ? ` = ${value?.value ?? ''}` : ''}`,
      );
    const roles = { button: 'button', field: 'textbox', heading: 'heading', picture: 'image' };
    const nodes = await page.nodes();
    for (const node of nodes.filter(({ role }) => role !== 'text')) {
      const wanted = `${roles[node.role]} ${node.name}${node.role === 'field' ? ` = ${node.value}` : ''}`;
      assert.ok(
        given.includes(wanted) || (node.role === 'picture' && given.includes(`img ${node.name}`)),
        `${wanted} in the tree`,
      );
    }
    const texts = given.filter(line => /^StaticText /.test(line)).map(line => line.slice(11));
    for (const { name } of nodes.filter(({ role }) => role === 'text'))
      assert.ok(texts.includes(name), `${name} in the tree`);
    assert.ok(
      tree.some(
        ({ role, properties }) =>
          role?.value === 'status' &&
          properties?.some(({ name, value }) => name === 'live' && value.value === 'polite'),
      ),
      'a polite live region',
    );
  });

  onPage('the verdict is announced when it changes, and only then', async () => {
    await page.evaluate(() => {
      globalThis.said = [];
      const live = document.getElementById('live');
      new MutationObserver(() => globalThis.said.push(live.textContent)).observe(live, {
        childList: true,
        characterData: true,
        subtree: true,
      });
    });
    await enterByTaps(page);
    await expectWorkedCase(page);
    const said = await page.evaluate(() => globalThis.said);
    assert.match(said.at(-1), /^Fits\b.*15:51:40/);
    assert.ok(
      said.length >= 4 && said.length <= 14,
      `a few announcements, not one a frame: ${said.join(' | ')}`,
    );
    said.forEach((text, i) => assert.notEqual(text, said[i - 1], 'the same is not said twice'));
  });

  // As a screen reader does it: the element gets the focus, or is pressed, without a key or a pointer.
  onPage('focusing and pressing the elements is as good as a tap', async () => {
    const on = (words, what) =>
      page.evaluate(
        (words, what) =>
          [...document.querySelectorAll('#mirror > *')]
            .find(element => (element.getAttribute('aria-label') ?? element.textContent) === words)
            [what](),
        words,
        what,
      );
    await on(fields.component, 'click');
    await page.find({ role: 'button', name: 'Red cells' });
    await on('Red cells', 'click');
    await page.find({ role: 'heading', name: /^Volume/ });
    for (const key of '316') await on(key, 'click');
    await page.find({ role: 'field', name: fields.volume, value: '316 mL' });
    await page.key('Escape'); // takes the entry back
    await closed(page);
    await page.find({ role: 'field', name: fields.volume, value: 'not recorded' });
    // The focus alone opens nothing; Enter then presses what has it.
    await on(fields.start, 'focus');
    assert.equal(await page.has({ role: 'heading', name: /^Start at/ }), false);
    await page.key('Enter');
    await page.find({ role: 'heading', name: /^Start at/ });
  });

  onPage('a node that is scrolled away comes into sight when it gets the focus', async () => {
    await page.resizeAndSettle(768, 1024);
    await enterByTaps(page);
    await page.tap({ role: 'button', name: /^More/ });
    await page.find({ role: 'button', name: /^Back/ });
    const last = { role: 'button', name: /^Change the set by: / };
    assert.ok((await page.find(last)).box.y > 1024, 'it is below the window at first');
    const { name } = await page.find(last);
    await tabTo(page, { role: 'button', name });
    await page.until('it to come into sight', async () => {
      const { box } = await page.find(last);
      return box.y >= 0 && box.y + box.height <= 1024;
    });
  });
});
