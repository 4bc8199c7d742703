// What the page carries inside: text that is an LZMA stream that is the WebAssembly, the protocols and the rehearsals
// that come with the page (web/unpack/unpack.hpp says how). scripts/pack writes it and tries this file on it first.
//
// Not DecompressionStream and base64: a sixth smaller, and ready sooner, because nothing waits for a stream.
// The first line says, in decimal figures: bytes of WebAssembly, bytes until the rehearsals, bytes in all, their check.

(() => {
  'use strict';

  Hangtime.unpack = (unpacker, packed) => {
    const code = Uint8Array.from(atob(unpacker.trim()), sign => sign.charCodeAt(0));
    const { exports } = new WebAssembly.Instance(new WebAssembly.Module(code));
    const [, figures, wasm, rehearsals, size, check] = packed.match(/^(\s*(\d+) (\d+) (\d+) (\d+)\s)/) || [];
    const text = figures ? packed.slice(figures.length) : '';
    new TextEncoder().encodeInto(text, new Uint8Array(exports.memory.buffer, exports.input()));
    if (!figures || exports.unpack(text.length, size) >>> 0 !== Number(check)) {
      throw new Error('this copy of the page is damaged');
    }
    const all = new Uint8Array(exports.memory.buffer, exports.output(), size);
    return { wasm: all.subarray(0, wasm), protocols: all.slice(wasm, rehearsals), rehearsals: all.slice(rehearsals) };
  };
})();
