// scripts/kill: many kills, and the figures that come out.

import { killAtRandom } from './drive/kill.mjs';

const count = Number(process.argv[2]);
const parts = [
  ['chromium', 'renderer', 0.75],
  ['chromium', 'browser', 0.15],
  ['firefox', 'browser', 0.03],
  ['webkit', 'browser', 0.07],
];
let kills = 0,
  acknowledged = 0,
  wrong = 0;
for (const [engine, what, share] of parts) {
  const wanted = Math.max(1, Math.round(count * share));
  const each = process.stderr.isTTY ? n => process.stderr.write(`\r${engine}, ${what}: ${n} of ${wanted} `) : undefined;
  const got = await killAtRandom(engine, what, wanted, { each });
  if (each) process.stderr.write('\r');
  console.log(
    `${engine}, ${what}: ${got.kills} kills, ${got.acknowledged} records called saved, ` +
      `${got.wrong.length} missing or wrong (${Math.round(got.seconds)} s)`,
  );
  for (const line of got.wrong) console.log(`  ${line}`);
  kills += got.kills;
  acknowledged += got.acknowledged;
  wrong += got.wrong.length;
}
console.log(`${kills} kills, ${acknowledged} records called saved, ${wrong} missing or wrong`);
process.exitCode = wrong > 0 || kills < count * 0.99 ? 1 : 0;
