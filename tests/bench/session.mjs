// What a session costs while it lives: from a touch to the moment at which the screen may say "saved", quick touches for
// minutes, memory, and the processor while nothing happens. Used by measure.mjs; Chromium alone.

import { readFileSync } from 'node:fs';
import { Bedside } from '../browser/drive/bedside.mjs';

const pause = ms => new Promise(done => setTimeout(done, ms));
const button = name => ({ role: 'button', name });

// Before any of the page's scripts, after `watch` of measure.mjs: when the store said that a record is on the disk, and
// when the picture after that was shown.
export function watchStore() {
  const seen = window.bench;
  const now = performance.now.bind(performance); // the machine's own: a test may put the page's clock ahead
  seen.saves = [];
  let lifted = null, stored = null;
  addEventListener('pointerup', event => {
    lifted = event.timeStamp;
    stored = null;
  }, true);
  const put = CanvasRenderingContext2D.prototype.putImageData;
  CanvasRenderingContext2D.prototype.putImageData = function (...given) {
    put.apply(this, given);
    if (lifted === null || stored === null) return;
    seen.saves.push({ disk: stored - lifted, screen: now() - lifted });
    lifted = null;
  };
  addEventListener('load', () => {
    const { tell, kinds } = window.Hangtime;
    window.Hangtime.tell = (kind, what) => {
      if (kind === kinds.stored && lifted !== null) stored = now();
      return tell(kind, what);
    };
  });
}

// A session whose bag is here, at the first step of the match.
async function untilMatch(tab) {
  await tab.running();
  const bed = new Bedside(tab);
  await bed.open();
  await bed.order();
  await bed.getReady();
  await bed.callAndIssue();
  await bed.settleGroups();
  await bed.press(says);
  await tab.find(button('It is the same'));
  return bed;
}
const says = 'Yes, they say it themselves';

// Each step of the match is a record; before the last one it is interrupted, and begins again.
export async function saves(tab, wanted) {
  const bed = await untilMatch(tab);
  const steps = Number(/of (\d+)/.exec((await tab.nodes()).find(node => /^Step \d+ of/.test(node.name)).name)[1]);
  const same = await tab.middle(button(/^It is the same$/));
  const interrupted = await tab.middle(button(/^We were interrupted$/));
  await tab.evaluate(() => { window.bench.saves = []; });
  let done = 0;
  for (let step = 0; done < wanted; ++done) {
    const last = step === steps - 2; // the last but one: none is passed by
    await tab.press(...(last ? interrupted : same));
    step = last ? 0 : step + 1;
    if (last) await bed.press(says); // asked again
    await pause(450 + done % 17); // until the next touch counts; at all phases of a frame
  }
  const got = await tab.evaluate(() => window.bench.saves);
  return { wanted, disk: got.map(one => one.disk), screen: got.map(one => one.screen) };
}

// Touches on a keypad, so many a second, sent without waiting for an answer; how long each took until its picture.
export async function quickTaps(tab, keys, wanted, perSecond) {
  const wire = await tab.tab.createCDPSession();
  const send = (type, [x, y], buttons) =>
    wire.send('Input.dispatchMouseEvent', { type, x, y, button: 'left', buttons, clickCount: 1 });
  await tab.evaluate(() => { window.bench.taps = { pointerdown: [], pointerup: [] }; });
  const begun = performance.now(), sent = [];
  for (let i = 0; i < wanted; ++i) {
    const at = begun + i * 1000 / perSecond, early = at - performance.now();
    if (early > 0) await pause(early);
    sent.push(send('mousePressed', keys[i % keys.length], 1), send('mouseReleased', keys[i % keys.length], 0));
  }
  await Promise.all(sent);
  await pause(1000);
  await wire.detach();
  const seconds = (performance.now() - begun - 1000) / 1000;
  const { pointerup } = await tab.evaluate(() => window.bench.taps);
  return { took: pointerup, rate: wanted / seconds };
}

export async function untilRunning(tab) {
  const bed = await untilMatch(tab);
  await bed.match();
  await bed.hang();
  await bed.start();
}

// Resident memory of the browser's renderers in MB (proportional set size), and the page's own WebAssembly memory.
export async function memory(browser, tab) {
  const session = await browser.browser.target().createCDPSession();
  const { processInfo } = await session.send('SystemInfo.getProcessInfo');
  await session.detach();
  let most = 0;
  for (const { type, id } of processInfo) {
    if (type !== 'renderer') continue;
    const text = readFileSync(`/proc/${id}/smaps_rollup`, 'utf8');
    most = Math.max(most, Number(/^Pss:\s+(\d+)/m.exec(text)[1]) / 1024);
  }
  const heap = await tab.evaluate(() => window.HEAPU8?.length ?? window.Module?.HEAPU8?.length ?? NaN);
  return { renderer: most, heap: heap / 1024 / 1024 };
}
