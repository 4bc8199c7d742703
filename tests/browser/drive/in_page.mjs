// What runs inside the page, each function by itself: they are sent as text, so they use nothing from
// outside.

// The mirrored DOM, in its order. `box` is in CSS pixels of the viewport.
export function readNodes() {
  const roles = { H1: 'heading', H2: 'heading', P: 'text', BUTTON: 'button', INPUT: 'field', DIV: 'picture' };
  return [...document.querySelectorAll('#mirror > *')].map((element, index) => {
    const { x, y, width, height } = element.getBoundingClientRect();
    const words = element.getAttribute('aria-label') ?? element.textContent;
    return {
      index,
      role: roles[element.tagName] ?? element.tagName.toLowerCase(),
      name: words,
      value: element.tagName === 'INPUT' ? element.value : '',
      pressed: element.getAttribute('aria-pressed'),
      expanded: element.getAttribute('aria-expanded'),
      disabled: element.getAttribute('aria-disabled') === 'true',
      invalid: element.getAttribute('aria-invalid') === 'true',
      focused: document.activeElement === element,
      box: { x, y, width, height },
    };
  });
}

export function readState() {
  const stored = [];
  try {
    for (let i = 0; i < localStorage.length; ++i) {
      const key = localStorage.key(i);
      stored.push(`${key}=${localStorage.getItem(key)}`);
    }
    for (let i = 0; i < sessionStorage.length; ++i) stored.push(sessionStorage.key(i));
  } catch {
    /* no storage here */
  }
  return {
    live: document.getElementById('live')?.textContent ?? '',
    title: document.title,
    address: location.href,
    // Without the parts that the page was delivered with: nothing that is typed can be in them.
    dom: ['mirror', 'live', 'print'].map(id => document.getElementById(id)?.outerHTML ?? '').join('\n'),
    stored: stored.join('\n'),
    databases: typeof indexedDB.databases === 'function' ? 'listed' : 'not listed by this engine',
    running:
      document.getElementById('loading')?.hidden === true &&
      document.querySelectorAll('#mirror > *').length > 0,
    shown: ['loading', 'unable', 'stopped'].filter(id => document.getElementById(id)?.hidden === false),
    night: document.documentElement.classList.contains('night'),
    width: innerWidth,
    height: innerHeight,
    density: devicePixelRatio,
  };
}

// Everything that stands in every database of this page, as text, after the names of the databases.
export async function everyRecord() {
  const answer = request =>
    new Promise((done, fail) => {
      request.onsuccess = () => done(request.result);
      request.onerror = () => fail(request.error);
    });
  const found = [];
  for (const { name } of await indexedDB.databases()) {
    found.push(name);
    const database = await answer(indexedDB.open(name));
    for (const store of database.objectStoreNames) {
      const records = database.transaction(store).objectStore(store);
      const keys = await answer(records.getAllKeys());
      const values = await answer(records.getAll());
      found.push(JSON.stringify([store, keys, values]));
    }
    database.close();
  }
  return found.join('\n');
}
