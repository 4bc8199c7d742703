// The page's own JavaScript, all of it, in the files of this folder. `Hangtime` is what the C++ side calls;
// `Module` is what Emscripten's JavaScript, which follows, is started with.

var Hangtime = {
  // Before anything is changed in it. A clone is not shown, and nothing in it runs.
  asBuilt: document.documentElement.cloneNode(true),
};

var Module = (() => {
  'use strict';
  const element = id => document.getElementById(id);

  // Instead of a picture: the text of an element of the page that says what to do.
  Hangtime.giveUp = id => {
    for (const other of ['loading', 'unable', 'stopped']) element(other).hidden = other !== id;
    element('picture').hidden = true;
    element('mirror').hidden = true;
  };

  Hangtime.started = () => {
    element('loading').hidden = true;
    Hangtime.firstFrame = performance.now();
  };

  const able = typeof WebAssembly === 'object' && element('picture').getContext('2d') !== null;
  if (!able) Hangtime.giveUp('unable');

  // The ward's own protocols, or, while there are none, the examples that the page carries inside.
  let examples, rehearsals;
  const wasm = () => {
    const inside = Hangtime.unpack(element('unpacker').textContent, element('packed').textContent);
    examples = inside.protocols;
    rehearsals = inside.rehearsals;
    return inside.wasm;
  };
  const own = element('protocols').textContent.trim();
  Hangtime.protocolsAreExamples = () => own === '' || own === '[]';
  Hangtime.protocols = () => Hangtime.protocolsAreExamples() ? examples : new TextEncoder().encode(own);

  // What the page carries inside, whatever is in use: 0 the examples, 1 the rehearsals.
  Hangtime.carried = which => which === 0 ? examples : rehearsals;

  // Small settings only; where there is no storage, or it is full, nothing is lost that matters.
  const prefix = 'hangtime.1.';
  Hangtime.load = (name, fallback) => {
    try {
      const value = parseInt(localStorage.getItem(prefix + name), 10);
      return Number.isNaN(value) ? fallback : value;
    } catch {
      return fallback;
    }
  };
  Hangtime.save = (name, value) => {
    try {
      localStorage.setItem(prefix + name, String(value));
    } catch { /* a setting that is not kept */ }
  };

  // Texts likewise: what was being planned. No session, and nothing about a person.
  const mostText = 65536;
  Hangtime.textOf = name => {
    let text = '';
    try {
      text = localStorage.getItem(prefix + name) ?? '';
    } catch { /* no storage */ }
    return new TextEncoder().encode(text.length > mostText ? '' : text);
  };
  Hangtime.saveText = (name, text) => {
    try {
      if (text === '' || text.length > mostText) localStorage.removeItem(prefix + name);
      else localStorage.setItem(prefix + name, text);
    } catch { /* likewise */ }
  };

  const stopped = reason => {
    if (Hangtime.over || !able) return;  // without what it needs, the text that says so stays
    Hangtime.over = true;
    Hangtime.letGo?.();
    console.error(reason);
    Hangtime.giveUp('stopped');
  };
  element('reload').addEventListener('click', () => location.reload());
  // A trap in the WebAssembly ends whichever call was made into it; the picture from before must not stay.
  addEventListener('error', event => stopped(event.message));

  return {
    noExitRuntime: true,
    onAbort: stopped,
    instantiateWasm(imports, done) {
      // A promise, so that whatever goes wrong in unpacking ends in the same place.
      if (able) new Promise(go => go(WebAssembly.instantiate(wasm(), imports)))
        .then(made => done(made.instance, made.module)).catch(stopped);
      return {};
    },
  };
})();
