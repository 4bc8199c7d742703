// Pointers and keys go to the C++ side as they come, with the time at which they happened.

(() => {
  'use strict';
  const canvas = document.getElementById('picture');
  const kinds = { mouse: 0, touch: 1, pen: 2 };
  const keys = {
    Enter: 2, Tab: 3, Escape: 4, Backspace: 5, Delete: 6, ArrowLeft: 7, ArrowRight: 8, ArrowUp: 9, ArrowDown: 10,
    Home: 11, End: 12, PageUp: 13, PageDown: 14,
  };
  const aside = () => !Hangtime.running || Hangtime.over || document.querySelector('dialog[open]') !== null;

  const pointer = (kind, event) => {
    if (aside() || !event.isPrimary) return;
    const scale = Hangtime.scale();
    Module._ht_pointer(kind, kinds[event.pointerType] || 0, event.clientX * scale, event.clientY * scale, event.timeStamp);
    Hangtime.ask();
  };
  canvas.addEventListener('pointermove', event => {
    // A mouse that only passes by changes nothing that is drawn.
    if (event.buttons !== 0) pointer(0, event);
  });
  canvas.addEventListener('pointerdown', event => {
    if (event.button !== 0) return;
    canvas.setPointerCapture(event.pointerId);
    pointer(1, event);
    event.preventDefault(); // the focus stays where the keyboard put it
  });
  canvas.addEventListener('pointerup', event => event.button === 0 && pointer(2, event));
  canvas.addEventListener('pointercancel', event => pointer(3, event));
  canvas.addEventListener('contextmenu', event => event.preventDefault());
  canvas.addEventListener('wheel', event => {
    if (aside() || event.ctrlKey) return; // the browser's zoom
    const unit = event.deltaMode === 1 ? 20 : event.deltaMode === 2 ? innerHeight * 0.8 : 1;
    const scale = Hangtime.scale();
    Module._ht_wheel(event.clientX * scale, event.clientY * scale, event.deltaY * unit * scale);
    Hangtime.ask();
    event.preventDefault();
  }, { passive: false });

  addEventListener('keydown', event => {
    if (aside() || event.isComposing || event.ctrlKey || event.metaKey || event.altKey) return;
    const single = [...event.key].length === 1;
    const key = single ? 1 : keys[event.key];
    if (!key) return; // function keys and the like are the browser's
    if (event.repeat && (single || key === 2)) { // a held key types once
      event.preventDefault();
      return;
    }
    const taken = Module._ht_key(key, single ? event.key.codePointAt(0) : 0, event.shiftKey ? 1 : 0, event.timeStamp);
    Hangtime.ask();
    // Tab moves the focus through the mirrored elements, unless a scanner sent it.
    if (taken) event.preventDefault();
  }, true);
})();
