// What wakes the page: a Worker that ticks once a second, because the timers of a hidden page slow down to once a
// minute; and the events that say that somebody looks again. What time it is, is decided on the C++ side.

(() => {
  'use strict';
  const program = 'let t = 0; onmessage = e => { clearInterval(t); if (e.data) t = setInterval(() => postMessage(0), e.data); };';
  const everyMs = 1000;
  const others = new Set();
  let wanted = false, worker = null, timer = 0, last = 0;

  const tick = () => {
    last = performance.now();
    if (Hangtime.over) return;
    for (const other of others) other();
    if (wanted) Module._ht_tick();
  };
  const bySelf = () => {
    worker?.terminate();
    worker = null;
    if (!timer) timer = setInterval(tick, everyMs);
  };
  const start = () => {
    last = performance.now();
    if (worker || timer) return;
    try {
      const address = URL.createObjectURL(new Blob([program], { type: 'text/javascript' }));
      worker = new Worker(address);
      URL.revokeObjectURL(address);
      worker.onmessage = tick;
      worker.onerror = bySelf;
      worker.postMessage(everyMs);
    } catch {
      bySelf();
    }
  };
  const stop = () => {
    worker?.terminate();
    worker = null;
    clearInterval(timer);
    timer = 0;
  };

  Hangtime.tickWanted = yes => {
    wanted = yes;
    if (wanted || others.size > 0) start();
    else stop();
  };
  // For what else wants to be called at each tick, or no longer.
  Hangtime.everyTick = (other, yes) => {
    if (yes) others.add(other);
    else others.delete(other);
    Hangtime.tickWanted(wanted);
  };
  // 0: nothing ticks, 1: the Worker, 2: the page's own timer, which is late while the page is hidden.
  Hangtime.ticker = () => worker ? 1 : timer ? 2 : 0;

  const awake = () => {
    if (!Hangtime.running || Hangtime.over || document.hidden) return;
    if (worker && performance.now() - last > 5 * everyMs) { // it did not come back from sleep, or was thrown away
      stop();
      start();
    }
    Hangtime.tryStore();
    Module._ht_awake();
    Hangtime.ask();
  };
  for (const name of ['visibilitychange', 'resume']) document.addEventListener(name, awake);
  for (const name of ['pageshow', 'focus']) addEventListener(name, awake);

  const letGo = Hangtime.letGo;
  Hangtime.letGo = () => {
    letGo?.();
    stop();
  };
})();
