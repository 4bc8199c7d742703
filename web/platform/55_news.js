// What happened by itself, on its way to the C++ side: it is told in order, after the call that is under way has
// returned, never inside it. platform_browser.cpp takes one after the other.

(() => {
  'use strict';
  const news = [];
  let text = null, told = false;

  // The numbers are those of platform_browser.cpp.
  Hangtime.kinds = { record: 0, gone: 1, loaded: 2, state: 3, stored: 4, removed: 5, cleared: 6, file: 7, files: 8, fileRead: 9 };

  Hangtime.tell = (kind, what = {}) => {
    news.push({ kind, session: '', n: 0, outcome: 0, extra: 0, text: '', shelf: 0, ...what });
    if (told) return;
    told = true;
    queueMicrotask(() => {
      told = false;
      if (Hangtime.over) return;
      Module._ht_news();
      Hangtime.ask?.();
    });
  };

  // -> what came first, or undefined. Its texts are bytes in `takeText`: the session's, then its own.
  Hangtime.nextNews = () => {
    const next = news.shift();
    if (!next) return undefined;
    const encoder = new TextEncoder();
    const session = encoder.encode(next.session), own = encoder.encode(next.text);
    text = new Uint8Array(session.length + own.length);
    text.set(session);
    text.set(own, session.length);
    return { ...next, sessionBytes: session.length, bytes: text.length };
  };
  Hangtime.takeText = () => text;
})();
