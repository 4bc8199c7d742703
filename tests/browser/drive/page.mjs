// The few verbs that every test uses, the same in the three engines. Each engine's own file adds how.

import { readNodes, readState } from './in_page.mjs';

const pause = ms => new Promise(done => setTimeout(done, ms));

const fits = (wanted, text) => (wanted instanceof RegExp ? wanted.test(text) : wanted === text);
const matches = (node, { role, name, value }) =>
  (role === undefined || node.role === role) &&
  (name === undefined || fits(name, node.name)) &&
  (value === undefined || fits(value, node.value));

export class Page {
  // From each engine: evaluate, press, touch, pressAll, wheel, type, scan, key, chord, screenshot, resize,
  // reload, close.
  constructor(engine) {
    this.engine = engine;
    this.requests = []; // addresses that the page asked for, as the protocol or the page's own list tells
    this.console = []; // "type: text"
    this.errors = []; // exceptions that nobody caught
  }

  nodes() {
    return this.evaluate(readNodes);
  }

  state() {
    return this.evaluate(readState);
  }

  // Asks again until `look` gives something; its last words go into the failure. The patience is for machines that
  // have much else to do: it costs time only where a test fails anyway.
  async until(what, look, patience = 60_000) {
    const end = Date.now() + patience;
    for (;;) {
      const found = await look();
      if (found) return found;
      if (Date.now() > end) {
        const nodes = await this.nodes().catch(() => []);
        const shown = nodes
          .map(node => `${node.role} ${node.name}${node.value ? ` = ${node.value}` : ''}`)
          .join('\n  ');
        throw new Error(
          `${this.engine}: ${what} did not come within ${patience} ms; on the screen:\n  ${shown}`,
        );
      }
      await pause(15);
    }
  }

  running() {
    return this.until('the first frame', async () => {
      const { running, shown } = await this.state();
      const instead = shown.filter(id => id !== 'loading');
      if (instead.length)
        throw new Error(
          `${this.engine}: the page shows "${instead}" instead of a picture: ${this.console.join('; ')}`,
        );
      return running;
    });
  }

  // Another size, and until the page is laid out for it: a tap that was made for the arrangement before is
  // dropped by the page, on purpose.
  async resizeAndSettle(width, height) {
    await this.resize(width, height);
    let before = '';
    let alike = 0;
    await this.until(`the page to be laid out for ${width}x${height}`, async () => {
      const state = await this.state();
      const boxes = JSON.stringify((await this.nodes()).map(node => node.box));
      const whole = await this.evaluate(
        () => document.getElementById('picture').width === Math.round(innerWidth * devicePixelRatio),
      );
      alike = whole && state.width === width && boxes === before ? alike + 1 : 0;
      before = boxes;
      return alike >= 10;
    });
  }

  // The one node of this role and name (a text or a RegExp); waits for it.
  async find(wanted) {
    const what = `${wanted.role ?? 'node'} ${wanted.name ?? ''}${wanted.value ? ` = ${wanted.value}` : ''}`;
    return this.until(what, async () => {
      const found = (await this.nodes()).filter(node => matches(node, wanted));
      if (found.length > 1) throw new Error(`${this.engine}: ${found.length} nodes are called ${what}`);
      return found[0];
    });
  }

  async has(wanted) {
    return (await this.nodes()).some(node => matches(node, wanted));
  }

  // Where to put the finger: the middle of the node's box, which must be on the screen.
  async middle(wanted) {
    const { box, name } = await this.find(wanted);
    const { width, height } = await this.state();
    const x = box.x + box.width / 2,
      y = box.y + box.height / 2;
    if (x < 0 || y < 0 || x >= width || y >= height) {
      throw new Error(
        `${this.engine}: ${name} is at ${x},${y}, outside the ${width}x${height} of the window`,
      );
    }
    return [x, y];
  }

  // A real pointer event at the node's place; it lands on whatever is there.
  async tap(wanted, { finger = false } = {}) {
    const [x, y] = await this.middle(wanted);
    await (finger ? this.touch(x, y) : this.press(x, y));
  }

  // Turns the wheel over it until its middle stands well inside the window, or nothing moves any more.
  async show(wanted) {
    for (let turns = 0; turns < 40; ++turns) {
      const { box } = await this.find(wanted);
      const { height } = await this.state();
      const y = box.y + box.height / 2;
      if (y > height * 0.12 && y < height * 0.85) return;
      await this.wheel(box.x + box.width / 2, height / 2, y < height * 0.12 ? -height / 4 : height / 4);
      const moved = async () => (await this.find(wanted)).box.y !== box.y;
      // Where it is in sight, not to move means the end of what scrolls; else a busy machine is given time.
      const inSight = y > 0 && y < height;
      const end = Date.now() + (inSight ? 500 : 8000);
      while (!(await moved())) {
        if (Date.now() < end) await pause(15);
        else if (inSight) return;
        else throw new Error(`${this.engine}: ${wanted.name} cannot be brought into sight`);
      }
    }
  }

  async says(text) {
    const wanted = typeof text === 'string' ? new RegExp(text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')) : text;
    return this.until(`"${wanted.source}"`, async () =>
      (await this.nodes()).find(node => wanted.test(node.value ? `${node.name}: ${node.value}` : node.name)),
    );
  }
}
