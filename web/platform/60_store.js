// The sessions' records in IndexedDB: a record is an opaque text under [session, number], and is never written
// over. One window writes, the others read along. What is real and what is rehearsed stand on two shelves, which are
// two databases with a lock, a channel and a queue each.
//
// Two things keep writers apart. A lock (where there is none, a lease that is renewed) says whose turn it is; and
// every write looks in the same transaction whether the token in the store is still its own, so that a window that
// has not yet heard that it was replaced cannot write either.

Hangtime.shelf = (shelf, name) => {
  'use strict';
  // The numbers are those of platform.hpp.
  const states = { opening: 0, open: 1, absent: 2, unreadable: 3, newer: 4, lost: 5 };
  const outcomes = { saved: 0, full: 1, refused: 2, lost: 3, notWriter: 4, conflict: 5, gap: 6 };
  const { kinds } = Hangtime;
  const leaseMs = 6000, patienceMs = 3000, lock = `${name}.writer`;
  const tell = (kind, what) => Hangtime.tell(kind, { shelf, ...what });
  const strict = { durability: 'strict' };
  const token = Array.from(crypto.getRandomValues(new Uint32Array(4)), part => part.toString(36)).join('');

  const ask = request => new Promise((done, fail) => {
    request.onsuccess = () => done(request.result);
    request.onerror = () => fail(request.error);
  });
  const end = transaction => new Promise((done, fail) => {
    transaction.oncomplete = done;
    transaction.onabort = () => fail(transaction.error || new DOMException('', 'AbortError'));
  });

  let db = null, state = states.opening, writer = false, opened = false;
  let claimed = false;    // our token is in the store
  let release = null;     // gives the lock back
  let waiting = false;    // for the lock
  let leasing = false;    // there are no locks here
  let tries = 0;          // to connect again
  const known = new Set(); // "session/number" of what the guest has
  const queue = [];
  let working = null;
  let channel = null;

  const set = (newState, newWriter) => {
    if (newState === state && newWriter === writer) return;
    state = newState;
    writer = newWriter;
    // Who only reads also looks by itself: between files on disk, WebKit's channel reaches no other window.
    Hangtime.everyTick(look, state === states.open && !writer);
    tell(kinds.state, { n: state, outcome: writer ? 1 : 0 });
  };
  const changed = () => channel?.postMessage(0);

  // --- Reading ---

  // Hands over what the guest has not got yet, and says which sessions are gone.
  const refresh = async () => {
    if (!db) return;
    const records = db.transaction(['records'], 'readonly').objectStore('records');
    const keys = await ask(records.getAllKeys());
    const news = keys.some(key => !known.has(`${key[0]}/${key[1]}`));
    const values = news ? await ask(records.getAll()) : [];
    const there = new Set(), sessions = new Set(), gone = new Set();
    keys.forEach((key, i) => {
      const id = `${key[0]}/${key[1]}`;
      there.add(id);
      sessions.add(String(key[0]));
      if (known.has(id)) return;
      known.add(id);
      tell(kinds.record, { session: String(key[0]), n: key[1] | 0, text: String(values[i]) });
    });
    for (const id of known) {
      if (there.has(id)) continue;
      known.delete(id);
      const session = id.slice(0, id.lastIndexOf('/'));
      if (!sessions.has(session)) gone.add(session);
    }
    for (const session of gone) tell(kinds.gone, { session });
  };
  const look = () => refresh().catch(() => {}); // what is wrong shows at the next write or at the next opening

  // --- Who writes ---

  const claim = async () => {
    try {
      const transaction = db.transaction(['meta'], 'readwrite', strict);
      transaction.objectStore('meta').put({ token, until: 0 }, 'writer');
      await end(transaction);
      claimed = true;
    } catch {
      claimed = false; // a full store: the first write tries again, and says what is wrong
    }
    if (!db) return;
    await look();
    set(states.open, true);
    work();
  };

  const hold = granted => {
    if (!granted) {
      set(states.open, false);
      wait();
      return undefined;
    }
    return new Promise(done => {
      release = done;
      if (db) claim();
    });
  };
  const stolen = () => {
    release = null;
    claimed = false;
    if (state === states.open) set(state, false);
    if (!Hangtime.over) wait();
  };
  const wait = () => {
    if (waiting) return;
    waiting = true;
    navigator.locks.request(lock, granted => {
      waiting = false;
      return hold(granted);
    }).then(() => {}, stolen);
  };

  // Without locks (a page that is served without TLS): whoever renewed last writes, until that is too long ago.
  const lease = async (force = false) => {
    if (!db) return;
    let mine = false;
    try {
      const transaction = db.transaction(['meta'], 'readwrite');
      const meta = transaction.objectStore('meta'), now = Date.now();
      const found = await ask(meta.get('writer'));
      // A lease that ends too far ahead was made before the clock was put back.
      mine = force || !found || found.token === token || found.until < now || found.until > now + 2 * leaseMs;
      if (mine) meta.put({ token, until: now + leaseMs }, 'writer');
      await end(transaction);
    } catch {
      mine = writer; // the next write says what is wrong
    }
    if (!db) return;
    if (mine === writer && state === states.open) return;
    claimed = mine;
    await look();
    set(states.open, mine);
    work();
  };

  addEventListener('pagehide', () => {
    if (!leasing || !writer || !db) return; // a lock goes by itself
    try {
      const transaction = db.transaction(['meta'], 'readwrite');
      transaction.objectStore('meta').delete('writer');
      transaction.commit();
      claimed = false;
    } catch { /* then it runs out */ }
  });

  const compete = () => {
    if (release) return claim();
    if (leasing) return lease();
    const withoutLocks = () => {
      leasing = true;
      Hangtime.everyTick(lease, true);
      return lease();
    };
    if (!navigator.locks) return withoutLocks();
    if (waiting) return set(states.open, false);
    return new Promise(settled => {
      navigator.locks.request(lock, { ifAvailable: true }, granted => {
        settled();
        return hold(granted);
      }).then(() => {}, error => {
        settled();
        return error.name === 'SecurityError' ? withoutLocks() : stolen();
      });
    });
  };

  // The guest's wish: this window writes from now on, and the other one reads.
  const takeOver = () => {
    if (!db || writer) return;
    if (leasing) lease(true);
    else navigator.locks.request(lock, { steal: true }, hold).then(() => {}, stolen);
  };

  // --- Opening ---

  const lose = () => {
    if (!db) return;
    db = null;
    claimed = false;
    set(states.lost, false);
    setTimeout(connect, Math.min(10_000, 200 * 2 ** tries++));
  };

  const connect = () => new Promise(done => {
    if (db || Hangtime.over) return done();
    const fail = why => {
      clearTimeout(late);
      if (!db) set(why, false);
      done();
    };
    // Should it open after all, then it is used after all.
    const late = setTimeout(() => fail(states.absent), patienceMs);
    let request;
    try {
      request = indexedDB.open(name, 1);
    } catch {
      return fail(states.absent);
    }
    request.onupgradeneeded = () => {
      request.result.createObjectStore('records');
      request.result.createObjectStore('meta');
    };
    request.onerror = event => {
      event.preventDefault();
      fail(request.error?.name === 'VersionError' ? states.newer : states.absent);
    };
    request.onsuccess = async () => {
      clearTimeout(late);
      if (db || Hangtime.over) {
        request.result.close();
        return done();
      }
      db = request.result;
      db.onversionchange = () => {
        db?.close();
        lose();
      };
      db.onclose = lose;
      try {
        await refresh();
      } catch {
        if (db) db.close();
        db = null;
        return fail(states.unreadable);
      }
      tell(kinds.loaded);
      tries = 0;
      await compete();
      done();
    };
  });

  const openStore = () => {
    if (opened) return;
    opened = true;
    try {
      channel = new BroadcastChannel(name);
      channel.onmessage = look;
    } catch { /* who reads looks by itself */ }
    connect();
  };
  // On waking, and when somebody wishes to try again.
  const tryStore = () => {
    if (db) look();
    else if (state !== states.opening) connect();
  };

  // --- Writing ---

  const whole = session => IDBKeyRange.bound([session], [session, []]);

  // All of the jobs in one transaction: everything is kept, or nothing.
  const attempt = async jobs => {
    if (!db) return state === states.lost || state === states.opening ? outcomes.lost : outcomes.refused;
    if (!writer) return outcomes.notWriter;
    let verdict = null, transaction;
    try {
      transaction = db.transaction(['records', 'meta'], 'readwrite', strict);
    } catch {
      return outcomes.lost;
    }
    const over = end(transaction);
    over.catch(() => {});
    try {
      const records = transaction.objectStore('records'), meta = transaction.objectStore('meta');
      if (!claimed) meta.put({ token, until: leasing ? Date.now() + leaseMs : 0 }, 'writer');
      else if ((await ask(meta.get('writer')))?.token !== token) verdict = outcomes.notWriter;
      for (const { session, n, text, removes } of jobs) {
        if (verdict !== null) break;
        if (removes) {
          records.delete(whole(session));
          continue;
        }
        const [before, there] = await Promise.all([
          n > 1 ? ask(records.get([session, n - 1])) : null, ask(records.get([session, n])),
        ]);
        if (before === undefined) verdict = outcomes.gap;
        else if (there !== undefined && there !== text) verdict = outcomes.conflict;
        else records.put(text, [session, n]); // also where it is there: this one's end says that it is on the disk
      }
      if (verdict === null) transaction.commit();
      else transaction.abort();
    } catch {
      try {
        transaction.abort();
      } catch { /* it has ended, and says why */ }
    }
    try {
      await over;
      claimed = true;
      return outcomes.saved;
    } catch (error) {
      if (verdict !== null) return verdict;
      if (error.name === 'QuotaExceededError') return outcomes.full;
      return !db || error.name === 'AbortError' ? outcomes.lost : outcomes.refused;
    }
  };

  const answer = ({ session, n, removes }, outcome) => {
    if (outcome === outcomes.saved) {
      if (!removes) known.add(`${session}/${n}`);
      else for (const id of known) if (id.startsWith(`${session}/`)) known.delete(id);
    }
    tell(removes ? kinds.removed : kinds.stored, { session, n, outcome });
  };

  // What arrives while a transaction is on its way goes into the next one together.
  const work = () => {
    if (queue.length === 0) return;
    working ??= (async () => {
      let most = Infinity;
      while (queue.length > 0) {
        const jobs = queue.splice(0, most);
        const outcome = await attempt(jobs);
        if (outcome !== outcomes.saved && jobs.length > 1) {
          queue.unshift(...jobs); // one by one, to say which
          most = 1;
          continue;
        }
        for (const job of jobs) answer(job, outcome);
        if (outcome !== outcomes.saved && !jobs[0].removes) {
          // What was to follow was noted without knowing of this: it must not follow something else.
          const follows = job => !job.removes && job.session === jobs[0].session;
          const after = queue.filter(follows);
          queue.splice(0, Infinity, ...queue.filter(job => !follows(job)));
          for (const job of after) answer(job, outcomes.gap);
        }
        if (outcome === outcomes.saved) changed();
        if (outcome === outcomes.notWriter && state === states.open) set(state, false);
      }
      working = null;
    })();
  };

  const append = (session, n, text) => {
    queue.push({ session, n, text, removes: false });
    work();
  };
  const remove = session => {
    queue.push({ session, n: 0, text: '', removes: true });
    work();
  };

  // --- Removing everything on it, and looking at what is left ---

  // The database as it is, whatever its version; null where there is none, and none is made.
  const asItIs = async () => {
    // WebKit goes on listing one whose making was aborted, so it is only tried where it can't be asked for.
    const listed = await indexedDB.databases?.();
    return listed && !listed.some(one => one.name === name) ? null : tryAsItIs();
  };
  const tryAsItIs = () => new Promise((done, fail) => {
    const late = setTimeout(fail, patienceMs);
    const request = indexedDB.open(name);
    let none = false;
    request.onupgradeneeded = () => {
      none = true;
      request.transaction.abort();
    };
    request.onerror = event => {
      event.preventDefault();
      clearTimeout(late);
      if (none) done(null);
      else fail();
    };
    request.onsuccess = () => {
      clearTimeout(late);
      request.result.onversionchange = () => request.result.close();
      done(request.result);
    };
  });

  const empty = async () => {
    for (const job of queue.splice(0)) answer(job, outcomes.refused);
    await working;
    let held = null;
    try {
      // First what is in it: a window that does not let go (a frozen one) keeps the database itself.
      held = db ?? await asItIs();
      db = null;
      if (held?.objectStoreNames.contains('records')) {
        const transaction = held.transaction(['records', 'meta'], 'readwrite', strict);
        transaction.objectStore('records').clear();
        transaction.objectStore('meta').put({ token, until: 0 }, 'writer'); // nobody else writes from here on
        await end(transaction);
        changed();
      }
    } catch { /* what is left is counted */ }
    held?.close();
    try {
      await new Promise(done => {
        const request = indexedDB.deleteDatabase(name);
        request.onsuccess = request.onerror = done;
        request.onblocked = () => setTimeout(done, 2000); // another window holds the empty store open
      });
    } catch { /* likewise */ }
    known.clear();
    claimed = false;
  };

  // Records that are there now; -1: cannot be read.
  const count = async () => {
    try {
      if (opened) await connect();
      const read = opened ? db : await asItIs();
      const n = read && read.objectStoreNames.contains('records')
        ? await ask(read.transaction(['records'], 'readonly').objectStore('records').count()) : 0;
      if (!opened) read?.close();
      return opened && !db ? -1 : n;
    } catch {
      return -1;
    }
  };

  const letGo = () => {
    db?.close();
    db = null;
    release?.();
  };

  return { openStore, tryStore, append, remove, takeOver, empty, count, letGo };
};
