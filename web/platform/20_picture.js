// The picture, and when to make another one. Nothing runs while nothing happens: an event or the timer asks for
// one frame, and that is all.

(() => {
  'use strict';
  const canvas = document.getElementById('picture');
  const most = 9.4e6; // pixels: the WebAssembly memory does not grow
  let size = { width: 0, height: 0, scale: 1 };
  let image = null, imageAt = -1;
  let asked = 0, timer = 0;

  Hangtime.measure = () => {
    const root = document.documentElement;
    let scale = window.devicePixelRatio || 1;
    const wide = Math.max(1, root.clientWidth), high = Math.max(1, root.clientHeight);
    if (wide * high * scale * scale > most) scale = Math.sqrt(most / (wide * high));
    size = { width: Math.round(wide * scale), height: Math.round(high * scale), scale };
    return size;
  };
  Hangtime.scale = () => size.scale;

  Hangtime.present = (buffer, at, width, height, x0, y0, x1, y1) => {
    if (canvas.width !== width || canvas.height !== height) {
      canvas.width = width;
      canvas.height = height;
      image = null;
    }
    if (!image || imageAt !== at) {
      image = new ImageData(new Uint8ClampedArray(buffer, at, width * height * 4), width, height);
      imageAt = at;
    }
    canvas.getContext('2d', { alpha: false }).putImageData(image, 0, 0, x0, y0, x1 - x0, y1 - y0);
  };

  const ask = () => {
    if (asked || document.hidden || Hangtime.over) return;
    asked = requestAnimationFrame(() => {
      asked = 0;
      if (Hangtime.over) return;
      Hangtime.frames = (Hangtime.frames || 0) + 1;
      Module._ht_frame();
    });
  };
  Hangtime.ask = ask;
  Hangtime.wake = ms => {
    clearTimeout(timer);
    if (ms <= 0) ask();
    else timer = setTimeout(ask, ms);
  };

  const dark = matchMedia('(prefers-color-scheme: dark)');
  Hangtime.prefersDark = () => dark.matches;
  Hangtime.setNight = night => document.documentElement.classList.toggle('night', night);

  addEventListener('resize', () => Hangtime.running && ask());
  document.addEventListener('visibilitychange', () => Hangtime.running && ask());
  addEventListener('pageshow', () => Hangtime.running && ask());
  // The density changes when the window moves to another display, or by the browser's zoom.
  const watchDensity = () => matchMedia(`(resolution: ${devicePixelRatio}dppx)`)
    .addEventListener('change', () => { watchDensity(); if (Hangtime.running) ask(); }, { once: true });
  watchDensity();

  const started = Hangtime.started;
  Hangtime.started = () => {
    Hangtime.running = true;
    started();
  };
})();
