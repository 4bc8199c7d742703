// The store in each engine, from disk and served: what is answered as saved is there, in order, and nobody else
// writes. On a bare page (drive/bare.mjs).

import assert from 'node:assert/strict';
import { after, before, describe, test } from 'node:test';
import { BareSite } from './drive/bare.mjs';
import { launch } from './drive/index.mjs';

const open = page =>
  page.until('the store to open', () => page.evaluate(() => globalThis.bare.state() === 'open'));
const writes = (page, wanted = true) =>
  page.until(wanted ? 'the right to write' : 'the right to write to go', () =>
    page.evaluate(() => globalThis.bare.writes()).then(now => now === wanted),
  );
const append = (page, session, n, text) =>
  page.evaluate((...given) => globalThis.bare.append(...given), session, n, text);
const records = page => page.evaluate(() => globalThis.bare.records);

for (const engine of ['chromium', 'firefox', 'webkit']) {
  describe(`the store in ${engine}`, { concurrency: 1 }, () => {
    let browser;
    const site = new BareSite();
    before(async () => {
      await site.serve();
      browser = await launch(engine);
    });
    after(async () => {
      await browser?.close();
      await site.close();
    });

    // Each test starts from an empty store, and proves on its way out that clearing leaves one.
    const onPage = (name, options, body) =>
      test(name, { timeout: 600_000 }, async () => {
        const { file, path } = site.add(options);
        const address = options.served ? site.address + path : file;
        const page = await browser.open(address);
        try {
          if (!options.bare) {
            await open(page);
            await writes(page);
            await page.evaluate(() => globalThis.bare.clear());
            await writes(page);
            await page.evaluate(() => {
              globalThis.bare.records.length = globalThis.bare.answered.length = 0;
            });
          }
          await body(page, address);
          // (Firefox asks a server for an icon by itself, and its content policy refuses that.)
          assert.deepEqual(
            page.errors.filter(error => !error.includes('favicon.ico')),
            [],
          );
        } finally {
          await page.close();
        }
      });

    for (const [where, options] of [
      ['from disk', {}],
      ['served', { served: true }],
      ['without locks', { before: () => Object.defineProperty(navigator, 'locks', { value: undefined }) }],
    ]) {
      onPage(`${where}: what was saved is there after a reload, in order`, options, async page => {
        assert.equal(await append(page, 'kite', 1, 'one'), 'saved');
        assert.equal(await append(page, 'kite', 2, 'zwei ü 血'), 'saved');
        assert.equal(await append(page, 'key', 1, 'other'), 'saved');
        // A hundred at once keep their order, and are answered in it.
        const many = await page.evaluate(() =>
          Promise.all(
            Array.from({ length: 100 }, (_, i) => globalThis.bare.append('leaf', i + 1, `leaf ${i + 1}`)),
          ),
        );
        assert.deepEqual([...new Set(many)], ['saved']);
        const answered = await page.evaluate(() => globalThis.bare.answered.slice(-100));
        assert.deepEqual(
          answered,
          Array.from({ length: 100 }, (_, i) => `leaf/${i + 1} saved`),
        );
        await page.reload();
        await open(page);
        const found = await records(page);
        assert.deepEqual(
          found.filter(([session]) => session === 'kite'),
          [
            ['kite', 1, 'one'],
            ['kite', 2, 'zwei ü 血'],
          ],
        );
        assert.deepEqual(
          found.filter(([session]) => session === 'leaf').map(([, n]) => n),
          Array.from({ length: 100 }, (_, i) => i + 1),
        );
        await writes(page);
        assert.equal(await page.evaluate(() => globalThis.bare.remove('leaf')), 'saved');
        assert.equal(await append(page, 'kite', 3, 'three'), 'saved');
        await page.reload();
        await open(page);
        assert.deepEqual(
          (await records(page)).map(([session, n]) => `${session}/${n}`).sort(),
          ['key/1', 'kite/1', 'kite/2', 'kite/3'],
        );
      });

      onPage(`${where}: two windows, one writes`, options, async (page, address) => {
        await append(page, 'kite', 1, 'one');
        const other = await browser.open(address, { beside: page });
        try {
          await open(other);
          assert.equal(await other.evaluate(() => globalThis.bare.writes()), false);
          assert.deepEqual(await records(other), [['kite', 1, 'one']]);
          assert.equal(await append(other, 'kite', 2, 'not mine to write'), 'not_writer');
          // It reads along.
          assert.equal(await append(page, 'kite', 2, 'two'), 'saved');
          await other.until('the new record', async () => (await records(other)).length === 2);
          assert.deepEqual((await records(other))[1], ['kite', 2, 'two']);
          // Somebody wants to go on in the other one: from then on the first only reads.
          await other.evaluate(() => globalThis.Hangtime.takeOver());
          await writes(other);
          assert.equal(await append(other, 'kite', 3, 'three'), 'saved');
          assert.equal(await append(page, 'kite', 3, 'late'), 'not_writer');
          await writes(page, false);
          await page.until('the new record', async () => (await records(page)).some(([, n]) => n === 3));
        } finally {
          await other.close();
        }
        // The other is gone: the first one writes again, by itself.
        await page.until('the right to write again', () => page.evaluate(() => globalThis.bare.writes()));
        assert.equal(await append(page, 'kite', 4, 'four'), 'saved');
        await page.reload();
        await open(page);
        assert.deepEqual(
          (await records(page)).map(([, , text]) => text),
          ['one', 'two', 'three', 'four'],
        );
      });
    }

    onPage('a record is never written over, and none stands after a gap', {}, async page => {
      assert.equal(await append(page, 'kite', 2, 'two'), 'gap');
      assert.equal(await append(page, 'kite', 1, 'one'), 'saved');
      assert.equal(await append(page, 'kite', 1, 'one'), 'saved', 'sent again after a lost connection');
      assert.equal(await append(page, 'kite', 1, 'other'), 'conflict');
      // What was noted after it does not come to stand after something else.
      await page.evaluate(() => {
        globalThis.bare.append('kite', 2, 'two');
      });
      await page.until('two', () => page.evaluate(() => globalThis.bare.answered.at(-1) === 'kite/2 saved'));
      const both = await page.evaluate(() =>
        Promise.all([globalThis.bare.append('kite', 2, 'other'), globalThis.bare.append('kite', 3, 'after it')]),
      );
      assert.deepEqual(both, ['conflict', 'gap']);
      await page.reload();
      await open(page);
      assert.deepEqual(await records(page), [
        ['kite', 1, 'one'],
        ['kite', 2, 'two'],
      ]);
    });

    onPage('a window that has not heard that it was replaced cannot write', {}, async page => {
      await append(page, 'kite', 1, 'one');
      // Another window's claim, behind this one's back.
      await page.evaluate(async () => {
        const db = await new Promise(done => {
          const request = indexedDB.open('hangtime');
          request.onsuccess = () => done(request.result);
        });
        const transaction = db.transaction(['meta'], 'readwrite');
        transaction.objectStore('meta').put({ token: 'other', until: 0 }, 'writer');
        await new Promise(done => {
          transaction.oncomplete = done;
        });
        db.close();
      });
      assert.equal(await append(page, 'kite', 2, 'two'), 'not_writer');
      await writes(page, false);
      await page.reload();
      await open(page);
      assert.deepEqual(await records(page), [['kite', 1, 'one']]);
    });

    onPage('the connection breaks and is made again; nothing is lost', {}, async page => {
      await append(page, 'kite', 1, 'one');
      // As another window's deletion, or the browser's: the store asks to be let go.
      const during = await page.evaluate(async () => {
        const gone = new Promise(done => {
          const request = indexedDB.deleteDatabase('hangtime');
          request.onsuccess = done;
        });
        await gone;
        return globalThis.bare.append('kite', 2, 'two');
      });
      assert.ok(['lost', 'gap', 'not_writer'].includes(during), during);
      await page.until('it to be open again', () =>
        page.evaluate(() => globalThis.bare.state() === 'open' && globalThis.bare.writes()),
      );
      assert.deepEqual(await page.evaluate(() => globalThis.bare.gone), ['kite'], 'it is said what is gone');
      assert.equal(await append(page, 'kite', 1, 'one'), 'saved');
    });

    onPage('clearing leaves nothing, and says so by reading', {}, async (page, address) => {
      await append(page, 'kite', 1, 'planted-record');
      await page.evaluate(() => {
        localStorage.setItem('hangtime.1.night', '1');
        sessionStorage.setItem('hangtime.1.x', '1');
        localStorage.setItem('of-another-page', '1');
      });
      const other = await browser.open(address, { beside: page });
      try {
        await open(other);
        assert.deepEqual(await page.evaluate(() => globalThis.bare.clear()), {
          records: 0,
          settings: 0,
          caches: 0,
        });
        await other.until('the other window to hear of it', () =>
          other.evaluate(() => globalThis.bare.gone.includes('kite')),
        );
        assert.deepEqual(
          await page.evaluate(() => Object.keys(localStorage)),
          ['of-another-page'],
          "other pages' settings are theirs",
        );
        assert.equal((await page.state()).stored.includes('hangtime'), false);
      } finally {
        await page.evaluate(() => localStorage.clear());
        await other.close();
      }
      await page.until('the right to write', () => page.evaluate(() => globalThis.bare.writes()));
      await page.reload();
      await open(page);
      assert.deepEqual(await records(page), []);
    });

    onPage('what is rehearsed stands on a shelf of its own, and is cleared with the rest', {}, async (page, address) => {
      const opened = one => one.until('the shelf', () => one.evaluate(() => globalThis.bare.writes(1)));
      const names = () =>
        page.evaluate(async () => (await indexedDB.databases()).map(({ name }) => name).filter(name => /hang/.test(name)));
      await append(page, 'kite', 1, 'real');
      assert.deepEqual(await names(), ['hangtime'], 'nothing of it is made unasked');
      assert.equal(await page.evaluate(() => globalThis.bare.append('kite', 1, 'early', 1)), 'lost');
      // Another window rehearses: that takes nothing away from this one, which writes what is real.
      const other = await browser.open(address, { beside: page });
      try {
        await open(other);
        await other.evaluate(() => globalThis.Hangtime.openStore(1));
        await opened(other);
        assert.equal(await other.evaluate(() => globalThis.bare.writes(0)), false);
        assert.equal(await other.evaluate(() => globalThis.bare.append('kite', 1, 'played', 1)), 'saved');
        assert.equal(await append(other, 'kite', 2, 'not mine to write'), 'not_writer');
        assert.equal(await append(page, 'kite', 2, 'real too'), 'saved');
        await other.until('the record', async () => (await records(other)).some(([, n]) => n === 2));
        assert.deepEqual(await records(other), [
          ['kite', 1, 'real'],
          ['kite', 2, 'real too'],
        ]);
      } finally {
        await other.close();
      }
      await page.reload();
      await open(page);
      await writes(page);
      assert.deepEqual(await records(page), [
        ['kite', 1, 'real'],
        ['kite', 2, 'real too'],
      ]);
      await page.evaluate(() => globalThis.Hangtime.openStore(1));
      await opened(page);
      assert.deepEqual((await records(page)).slice(2), [['rehearsal kite', 1, 'played']]);
      // Removed on the one, it stays on the other.
      assert.equal(await page.evaluate(() => globalThis.bare.append('kite', 2, 'on', 1)), 'saved');
      assert.equal(await page.evaluate(() => globalThis.bare.remove('kite', 1)), 'saved');
      await page.reload();
      await open(page);
      await writes(page);
      assert.deepEqual((await records(page)).length, 2);
      await page.evaluate(() => globalThis.Hangtime.openStore(1));
      await opened(page);
      assert.deepEqual((await records(page)).length, 2);
      assert.equal(await page.evaluate(() => globalThis.bare.append('key', 1, 'left there', 1)), 'saved');
      // Clearing takes it too, though this time nobody has opened it.
      await page.reload();
      await open(page);
      await writes(page);
      assert.deepEqual(await page.evaluate(() => globalThis.bare.clear()), { records: 0, settings: 0, caches: 0 });
      assert.deepEqual(await names(), ['hangtime']);
      await page.evaluate(() => globalThis.Hangtime.openStore(1));
      await opened(page);
      assert.equal((await page.evaluate(() => globalThis.bare.records.at(-1)[0])), 'kite', 'nothing came');
      // And with it open.
      assert.equal(await page.evaluate(() => globalThis.bare.append('key', 1, 'once more', 1)), 'saved');
      assert.deepEqual(await page.evaluate(() => globalThis.bare.clear()), { records: 0, settings: 0, caches: 0 });
      await page.reload();
      await open(page);
      await page.evaluate(() => globalThis.Hangtime.openStore(1));
      await opened(page);
      assert.deepEqual(await records(page), []);
    });

    const refused = [
      ['no IndexedDB', () => Object.defineProperty(globalThis, 'indexedDB', { value: undefined }), 'absent'],
      [
        'opening is forbidden',
        () => {
          IDBFactory.prototype.open = () => {
            throw new DOMException('planted', 'SecurityError');
          };
        },
        'absent',
      ],
      [
        'opening fails',
        () => {
          const real = IDBFactory.prototype.open;
          IDBFactory.prototype.open = function () {
            const request = real.call(this, 'planted', 1);
            request.addEventListener('upgradeneeded', () => request.transaction.abort());
            return request;
          };
          Object.defineProperty(IDBOpenDBRequest.prototype, 'onupgradeneeded', { set() {} });
        },
        'absent',
      ],
      [
        'reading fails',
        () => {
          IDBObjectStore.prototype.getAllKeys = () => {
            throw new DOMException('planted', 'UnknownError');
          };
        },
        'unreadable',
      ],
      [
        'the answer never comes',
        () => {
          IDBFactory.prototype.open = () => ({});
        },
        'absent',
      ],
    ];
    for (const [name, before, state] of refused) {
      if (name === 'the answer never comes' && engine !== 'chromium') continue; // slow, and not of an engine
      onPage(`${name}: it says so and goes on in memory`, { bare: true, before }, async page => {
        await page.until('the state', () =>
          page.evaluate(wanted => globalThis.bare.state() === wanted, state),
        );
        assert.equal(await append(page, 'kite', 1, 'one'), 'refused');
        const { records: left } = await page.evaluate(() => globalThis.bare.clear());
        assert.equal(left, -1, 'nothing is claimed about what cannot be read');
      });
    }

    onPage(
      'a full store says so, keeps what it has, and takes more when there is room',
      {
        before: () => {
          const real = IDBObjectStore.prototype.put;
          IDBObjectStore.prototype.put = function (value, key) {
            if (globalThis.full && this.name === 'records') throw new DOMException('planted', 'QuotaExceededError');
            return real.call(this, value, key);
          };
          // A browser says it at the end of the transaction; a throw inside looks like any other abort.
          const error = Object.getOwnPropertyDescriptor(IDBTransaction.prototype, 'error');
          Object.defineProperty(IDBTransaction.prototype, 'error', {
            get() {
              return globalThis.full
                ? new DOMException('planted', 'QuotaExceededError')
                : error.get.call(this);
            },
          });
        },
      },
      async page => {
        await append(page, 'kite', 1, 'one');
        await page.evaluate(() => {
          globalThis.full = true;
        });
        assert.equal(await append(page, 'kite', 2, 'two'), 'full');
        assert.equal(await append(page, 'kite', 2, 'two'), 'full');
        await page.evaluate(() => {
          globalThis.full = false;
        });
        assert.equal(await append(page, 'kite', 2, 'two'), 'saved');
        await page.reload();
        await open(page);
        assert.equal((await records(page)).length, 2);
      },
    );

    onPage('a store of a newer version is left alone', {}, async page => {
      await page.evaluate(
        () =>
          new Promise((done, fail) => {
            const request = indexedDB.open('hangtime', 2);
            request.onsuccess = () => {
              request.result.close();
              done();
            };
            request.onerror = fail;
          }),
      );
      await page.reload();
      await page.until('the state', () => page.evaluate(() => globalThis.bare.state() === 'newer'));
      assert.equal(await append(page, 'kite', 1, 'one'), 'refused');
      assert.equal(
        await page.evaluate(
          () =>
            new Promise(done => {
              const request = indexedDB.open('hangtime');
              request.onsuccess = () => {
                done(request.result.version);
                request.result.close();
              };
            }),
        ),
        2,
      );
      await page.evaluate(
        () =>
          new Promise(done => {
            const request = indexedDB.deleteDatabase('hangtime');
            request.onsuccess = request.onerror = request.onblocked = () => done(true);
          }),
      );
    });
  });
}
