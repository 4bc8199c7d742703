// The shelves as C++ calls them, and removing everything: records, settings, caches.

(() => {
  'use strict';
  const { kinds } = Hangtime, prefix = 'hangtime.';
  // By the numbers of platform.hpp.
  const shelves = ['hangtime', 'hangtime.rehearsal'].map((name, shelf) => Hangtime.shelf(shelf, name));
  for (const call of ['openStore', 'takeOver']) Hangtime[call] = (shelf = 0) => shelves[shelf][call]();
  Hangtime.append = (session, n, text, shelf = 0) => shelves[shelf].append(session, n, text);
  Hangtime.remove = (session, shelf = 0) => shelves[shelf].remove(session);
  // Without a number: all that are open.
  Hangtime.tryStore = shelf => {
    for (const one of shelf === undefined ? shelves : [shelves[shelf]]) one.tryStore();
  };

  const own = storage => Object.keys(storage).filter(key => key.startsWith(prefix));

  Hangtime.clearAll = async () => {
    const left = { n: -1, outcome: -1, extra: -1 }; // -1: cannot be read
    await Promise.all(shelves.map(shelf => shelf.empty()));
    try {
      for (const storage of [localStorage, sessionStorage]) for (const key of own(storage)) storage.removeItem(key);
      Hangtime.setSound(false); // one of the settings
      left.outcome = own(localStorage).length + own(sessionStorage).length;
    } catch { /* there is no such storage */ }
    try {
      const ours = async () => (await caches.keys()).filter(key => key.startsWith(prefix));
      for (const key of await ours()) await caches.delete(key);
      left.extra = (await ours()).length;
    } catch { /* nor such caches */ }
    const counts = await Promise.all(shelves.map(shelf => shelf.count()));
    if (!counts.includes(-1)) left.n = counts.reduce((a, b) => a + b);
    Hangtime.tell(kinds.cleared, left);
  };

  // After a stop nothing is written any more, and another window may.
  const letGo = Hangtime.letGo;
  Hangtime.letGo = () => {
    letGo?.();
    for (const shelf of shelves) shelf.letGo();
  };
})();
