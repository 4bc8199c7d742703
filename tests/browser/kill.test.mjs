// What was answered as saved survives the death of the renderer and of the browser. scripts/kill does it a thousand
// times.

import assert from 'node:assert/strict';
import { describe, test } from 'node:test';
import { killAtRandom } from './drive/kill.mjs';

describe('killed at random moments', { concurrency: 1 }, () => {
  for (const [engine, what, kills] of [
    ['chromium', 'renderer', 10],
    ['chromium', 'browser', 3],
    ['firefox', 'browser', 2],
    ['webkit', 'browser', 3],
  ]) {
    test(`${engine}, its ${what}: every record that was saved is there`, { timeout: 600_000 }, async () => {
      const { kills: done, acknowledged, wrong } = await killAtRandom(engine, what, kills);
      assert.deepEqual(wrong, []);
      assert.equal(done, kills);
      assert.ok(acknowledged >= kills / 2, `something was saved in between: ${acknowledged}`);
    });
  }

  test('a page that says "saved" too early is found out', { timeout: 600_000 }, async () => {
    const { wrong } = await killAtRandom('chromium', 'renderer', 15, { lies: true });
    assert.match(wrong.join('\n'), /were saved, \d+ are there/);
  });
});
