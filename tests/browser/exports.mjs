// What the page's WebAssembly offers to JavaScript is exactly the list in exports.txt.
//
// Run: node exports.mjs [BUILD FOLDER]. Prints TAP. The link step shortens the names; Emscripten's JavaScript
// says which is which.

import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const here = dirname(fileURLToPath(import.meta.url));
const build = process.argv[2] ?? join(here, '../../build/wasm');
const glue = readFileSync(join(build, 'hangtime_page.js'), 'utf8');
const module = new WebAssembly.Module(readFileSync(join(build, 'hangtime_page.wasm')));

const longName = new Map();
for (const [, long, short] of glue.matchAll(/Module\["(\w+)"\]=Module\["asm"\]\["([\w$]+)"\]\)\.apply/g)) {
  longName.set(short, long.replace(/^_/, ''));      // "_name" in the JavaScript is "name" in C
}
const found = WebAssembly.Module.exports(module)
  .map(({ name, kind }) => kind === 'function' ? longName.get(name) ?? `unnamed ${name}` : kind)
  .sort();
const wanted = readFileSync(join(here, 'exports.txt'), 'utf8').split('\n')
  .map(line => line.replace(/#.*/, '').trim()).filter(line => line).sort();

const extra = found.filter(name => !wanted.includes(name));
const missing = wanted.filter(name => !found.includes(name));
const good = extra.length + missing.length === 0 && found.length === wanted.length;
console.log(`${good ? 'ok' : 'not ok'} 1 - the WebAssembly's exports are those of tests/browser/exports.txt`);
if (extra.length) console.log(`# not in the list: ${extra.join(', ')}`);
if (missing.length) console.log(`# in the list only: ${missing.join(', ')}`);
console.log('1..1');
process.exit(good ? 0 : 1);
