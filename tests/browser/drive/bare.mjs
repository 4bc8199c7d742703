// A bare page: the product's own JavaScript for the store, the time, the sound and the files, under the product's
// content policy, with a guest in JavaScript in the place of the WebAssembly. Nothing of it is in the product.

import { createHash } from 'node:crypto';
import { createServer } from 'node:http';
import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { root } from './index.mjs';

const folder = `${root}/web/platform`;
const scripts = readdirSync(folder)
  .filter(name => /^\d+_.*\.js$/.test(name) && name >= '55')
  .sort()
  .map(name => readFileSync(`${folder}/${name}`, 'utf8'));

export const outcomes = ['saved', 'full', 'refused', 'lost', 'not_writer', 'conflict', 'gap'];
export const states = ['opening', 'open', 'absent', 'unreadable', 'newer', 'lost'];

// Runs in the page: what the C++ side is in the product. `bare` is what the tests talk to.
function guest(outcomes, states) {
  const waiting = new Map();
  const marks = ['', 'rehearsal '];
  const bare = (globalThis.bare = {
    records: [], // [session, n, text], as they were handed over
    states: [], // ["open", true], each as it was told
    rehearsal: [], // likewise, of the shelf for rehearsals; its sessions are "rehearsal kite" here
    gone: [],
    loaded: 0,
    wakings: [], // Date.now() of each
    awakenings: 0,
    ticks: 0,
    files: [],
    chosen: [], // of many files: how many, each time
    remind: null,
    answered: [], // "kite/1 saved", in order
    wait: key =>
      new Promise(done => {
        waiting.set(key, [...(waiting.get(key) ?? []), done]);
      }),
    append(session, n, text, shelf = 0) {
      const answer = bare.wait(`stored ${marks[shelf]}${session}/${n}`);
      globalThis.Hangtime.append(session, n, text, shelf);
      return answer;
    },
    remove(session, shelf = 0) {
      const answer = bare.wait(`removed ${marks[shelf]}${session}`);
      globalThis.Hangtime.remove(session, shelf);
      return answer;
    },
    clear() {
      const answer = bare.wait('cleared');
      globalThis.Hangtime.clearAll();
      return answer;
    },
    remindIn(ms) {
      bare.remind = Date.now() + ms;
      globalThis.Hangtime.tickWanted(true);
    },
    of: shelf => (shelf ? bare.rehearsal : bare.states).at(-1),
    state: (shelf = 0) => bare.of(shelf)?.[0] ?? 'opening',
    writes: (shelf = 0) => bare.of(shelf)?.[1] ?? false,
  });
  const answer = (key, value) => {
    const [first, ...rest] = waiting.get(key) ?? [];
    waiting.set(key, rest);
    first?.(value);
  };
  const heard = ({ kind, session: key, n, outcome, extra, text, shelf }) => {
    const session = marks[shelf] + key;
    return [
      () => bare.records.push([session, n, text]),
      () => bare.gone.push(session),
      () => (bare.loaded += shelf === 0),
      () => (shelf ? bare.rehearsal : bare.states).push([states[n], outcome === 1]),
      () => {
        bare.answered.push(`${session}/${n} ${outcomes[outcome]}`);
        answer(`stored ${session}/${n}`, outcomes[outcome]);
      },
      () => answer(`removed ${session}`, outcomes[outcome]),
      () => answer('cleared', { records: n, settings: outcome, caches: extra }),
      () => bare.files.push([outcome, text]),
      () => bare.chosen.push(n),
      () => bare.files.push([outcome, text]),
    ][kind]();
  };
  globalThis.Hangtime = {
    running: true,
    load: (name, fallback) => {
      try {
        return parseInt(localStorage.getItem(`hangtime.1.${name}`) ?? fallback, 10);
      } catch {
        return fallback;
      }
    },
    ask() {},
  };
  globalThis.Module = {
    _ht_news() {
      for (let next; (next = globalThis.Hangtime.nextNews()); ) {
        const taken = new Uint8Array(globalThis.Hangtime.takeText());
        const decoder = new TextDecoder();
        heard({
          ...next,
          session: decoder.decode(taken.subarray(0, next.sessionBytes)),
          text: decoder.decode(taken.subarray(next.sessionBytes)),
        });
      }
      bare.told?.();
    },
    _ht_tick() {
      ++bare.ticks;
      if (bare.remind === null || Date.now() < bare.remind) return;
      bare.wakings.push(Date.now() - bare.remind);
      bare.remind = null;
      document.title = `woken ${bare.wakings.length}`;
    },
    _ht_awake() {
      ++bare.awakenings;
    },
  };
}

// before, after: functions that run in the page before and after the product's scripts, with `given`.
// reports: the port on this machine to which the page may send what it was told; none by default.
export function barePage({ before, after, given, reports } = {}) {
  const call = (run, ...values) => (run ? `(${run})(${values.map(value => JSON.stringify(value))});` : '');
  const script = [
    call(before, given),
    call(guest, outcomes, states),
    ...scripts,
    after ? call(after, given) : 'Hangtime.openStore();',
  ].join('\n');
  const hash = createHash('sha256').update(script, 'utf8').digest('base64');
  const policy =
    `default-src 'none'; script-src 'sha256-${hash}'; worker-src blob:; base-uri 'none'; form-action 'none'` +
    (reports ? `; connect-src http://127.0.0.1:${reports}` : '');
  return (
    `<!DOCTYPE html><html lang="en"><head><meta charset="utf-8">` +
    `<meta http-equiv="Content-Security-Policy" content="${policy}"><title>bare</title></head>` +
    `<body><p>A page for tests.</p><script>${script}</script></body></html>`
  );
}

// Pages in a folder of their own, and the same folder served on this machine.
export class BareSite {
  constructor() {
    this.folder = mkdtempSync(join(tmpdir(), 'hangtime-bare-'));
    this.pages = 0;
  }

  // -> { file, path }: addresses from disk, and below `serve`'s.
  add(options, name = `bare-${++this.pages}.html`) {
    writeFileSync(join(this.folder, name), barePage(options));
    return { file: String(pathToFileURL(join(this.folder, name))), path: `/${name}` };
  }

  async serve() {
    this.server = createServer((request, response) => {
      response.setHeader('content-type', 'text/html; charset=utf-8');
      try {
        response.end(readFileSync(join(this.folder, request.url.replace(/[^\w.-]/g, ''))));
      } catch {
        response.statusCode = 404;
        response.end();
      }
    });
    await new Promise(done => this.server.listen(0, '127.0.0.1', done));
    this.address = `http://127.0.0.1:${this.server.address().port}`;
  }

  async close() {
    this.server?.closeAllConnections();
    if (this.server) await new Promise(done => this.server.close(done));
    rmSync(this.folder, { recursive: true, force: true });
  }
}
