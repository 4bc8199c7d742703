// One whole transfusion by taps, in steps that the tests and the pictures share. The page's two clocks are moved
// together, as if the time had passed.

const pause = ms => new Promise(done => setTimeout(done, ms));
const button = name => ({ role: 'button', name });
const field = name => ({ role: 'field', name });

// From here on the clocks can be moved; after each load again.
export const holdClock = (page, ms = 0) =>
  page.evaluate(shift => {
    if (!globalThis.clockShift) {
      const wall = Date.now.bind(Date);
      const steady = performance.now.bind(performance);
      globalThis.clockShift = { by: 0 };
      Date.now = () => wall() + globalThis.clockShift.by;
      performance.now = () => steady() + globalThis.clockShift.by;
      const stamp = Object.getOwnPropertyDescriptor(Event.prototype, 'timeStamp').get;
      Object.defineProperty(Event.prototype, 'timeStamp', { get() { return stamp.call(this) + globalThis.clockShift.by; } });
    }
    globalThis.clockShift.by = shift;
    globalThis.dispatchEvent(new Event('focus'));
  }, ms);

export class Bedside {
  constructor(page) {
    this.page = page;
    this.shift = 0;
  }

  async pass(minutes) {
    this.shift += minutes * 60_000;
    await holdClock(this.page, this.shift);
    await this.drawn(); // with the new time; on a busy machine that can be late
    await pause(600); // a page that finds its clock ahead takes no touch for a moment
    await this.drawn();
  }

  // Time passes quickly until `over`, in steps as long as a page that looks all the time lets pass at most.
  passUntil(what, over) {
    return this.page.until(what, async () => {
      if (await over()) return true;
      this.shift += 900;
      await holdClock(this.page, this.shift);
      await pause(30);
      return false;
    }, 150_000);
  }

  // Until two more pictures were due: what was asked for before is drawn, and no touch meets an older arrangement.
  drawn() {
    return this.page.evaluate(
      () => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(() => done(true)))),
    );
  }

  // Touches a button; the next touch counts only after a moment, so that a double tap notes one thing. Where a button
  // of the same name stands in a list as well, the one at the foot is meant: it comes first.
  async press(name) {
    const named = node => node.role === 'button' && (name instanceof RegExp ? name.test(node.name) : node.name === name);
    const there = async () => (await this.page.nodes()).find(named);
    let { box } = await this.page.until(`a button ${name}`, there);
    const { height } = await this.page.state();
    // Below the edge, where a line more was said above it: a turn of the wheel brings it up.
    for (let turns = 0; box.y + box.height / 2 > height - 4 && turns < 20; ++turns) {
      await this.page.wheel(box.x + box.width / 2, height / 2, height / 4);
      await pause(150);
      ({ box } = await this.page.until(`a button ${name}`, there));
    }
    const at = [box.x + box.width / 2, box.y + box.height / 2];
    const shown = async () => JSON.stringify(await this.page.nodes());
    const before = await shown();
    await (this.page.canTouch ? this.page.touch(...at) : this.page.press(...at));
    // Until something came of it, which on a busy machine is late; then as if the moment had passed.
    const end = Date.now() + 800;
    while (Date.now() < end && (await shown()) === before) await pause(20);
    if (Date.now() >= end) return; // it has passed
    await pause(60);
    if (!(await this.page.evaluate(() => globalThis.clockShift !== undefined))) return pause(420); // what it asks for
    this.shift += 800;
    await holdClock(this.page, this.shift);
  }

  async keys(digits) {
    for (const digit of digits) await this.page.tap(button(digit), { finger: this.page.canTouch });
    await this.page.tap(button('Done'), { finger: this.page.canTouch });
    await pause(60);
  }

  async open() {
    await holdClock(this.page, this.shift);
    await this.press(/^(Sessions|\d+ sessions?)$/);
    await this.press('New session');
    if (await this.page.has(button('The same'))) await this.press('The same');
    await this.page.find(button('Enter the order'));
  }

  async order() {
    await this.press('Enter the order');
    await this.press('Red cells');
    await this.press('Enter the order'); // what was entered is noted
    await this.page.find(button('Authorisation to transfuse'));
  }

  async getReady() {
    await this.press('Authorisation to transfuse');
    await this.keys('1');
    await this.press('Authorisation to transfuse');
    for (const name of ['Valid sample: confirm', 'Consent: confirm', 'Baseline observations taken']) await this.press(name);
    await this.press('Describe the person');
    await this.press('no');
    await this.press('yes');
    await this.press('Describe the person');
    for (const name of ['Premedication', 'Venous access', 'Set and saline']) await this.press(`${name}: confirm`);
    await this.press('Second checker'); // who it is, as a role, is asked first
    await this.press('nurse');
    await this.press('Second checker');
    await this.page.find(button('Call for the unit'));
  }

  async callAndIssue() {
    await this.press('Call for the unit');
    await this.press('The unit is issued');
    await this.keys('316');
    await this.press('a week or more away');
    await this.page.tap(field(/^Last 4 digits/), { finger: this.page.canTouch });
    await this.keys('4821');
    await this.press('The unit is issued');
    await this.page.find(button('Groups and requirements: read bag and tag'));
  }

  // By the laboratory's instruction: nothing is read of bag and tag.
  async settleGroups() {
    await this.press('Groups and requirements: read bag and tag');
    await this.press("The laboratory's instruction is followed");
  }

  // Step by step, each waited for, as the two at the bedside do.
  async match() {
    if (await this.page.has(button('Groups and requirements: read bag and tag'))) await this.settleGroups();
    await this.press('Yes, they say it themselves');
    await this.page.find(button('It is the same'));
    const step = async () => (await this.page.nodes()).find(node => /^Step \d+ of \d+/.test(node.name))?.name;
    for (let at = await step(); at !== undefined; ) {
      await this.press(/^(It is the same|All of it is right)$/);
      const before = at;
      at = await this.page.until('the next step', async () => {
        const now = (await step()) ?? 'over';
        return now !== before && now;
      });
      if (at === 'over') return;
    }
  }

  async hang() {
    await this.press('The bag is spiked and hangs');
    await this.press('The set is primed');
    await this.press('The set is primed');
    await this.press('The line is connected');
    for (const name of [
      'What to report is explained',
      'Nothing but saline beside it',
      'Blood warmer',
    ])
      await this.press(`${name}: confirm`);
  }

  async start() {
    await this.press(/^Start at 50 mL\/h/);
    await this.keys('50');
    await this.press('Start');
    await this.page.find({ role: 'button', name: /^Runs now: 50 mL\/h/ });
  }
}
