// The accessibility DOM: what is on the picture as real elements, over it, invisible and without pointer events.
// Focusing or pressing one takes the same way as a tap.

(() => {
  'use strict';
  const container = document.getElementById('mirror');
  const live = document.getElementById('live');
  const nodes = new Map(); // key -> { element, role }
  const [heading, subheading, text, button, choice, field, picture] = [0, 1, 2, 3, 4, 5, 6];
  const state = { chosen: 1, expanded: 2, expands: 4, editing: 8, missing: 16, refused: 32, disabled: 64 };
  const tags = { [heading]: 'h1', [subheading]: 'h2', [text]: 'p', [button]: 'button', [choice]: 'button', [field]: 'input', [picture]: 'div' };
  let quiet = false;

  const make = (key, role) => {
    const element = document.createElement(tags[role]);
    if (role === picture) element.setAttribute('role', 'img');
    if (role === button || role === choice) element.type = 'button';
    if (role === field) {
      element.type = 'text';
      element.inputMode = 'none';
      element.autocomplete = 'off';
      element.addEventListener('beforeinput', event => event.preventDefault());
    }
    if (role >= button && role !== picture) {
      element.addEventListener('focus', () => {
        if (quiet) return;
        Module._ht_node(key, 0);
        Hangtime.ask();
      });
      element.addEventListener('click', event => {
        event.preventDefault();
        Module._ht_node(key, 1);
        Hangtime.ask();
      });
    }
    return element;
  };

  const mark = (element, name, on, value) => on ? element.setAttribute(name, value) : element.removeAttribute(name);

  Hangtime.mirror = (key, place, role, bits, label, value, x0, y0, x1, y1) => {
    let known = nodes.get(key);
    if (known && known.role !== role) {
      known.element.remove();
      known = null;
    }
    if (!known) nodes.set(key, known = { element: make(key, role), role });
    const { element } = known;
    const whole = value ? `${label}: ${value}` : label;
    if (role === field) {
      element.setAttribute('aria-label', label);
      element.value = value;
      mark(element, 'aria-invalid', bits & state.refused, 'true');
      mark(element, 'aria-required', bits & state.missing, 'true');
    } else if (role === picture) {
      element.setAttribute('aria-label', whole);
    } else if (element.textContent !== whole) {
      element.textContent = whole;
    }
    if (role === button) {
      mark(element, 'aria-expanded', bits & state.expands, bits & state.expanded ? 'true' : 'false');
      mark(element, 'aria-disabled', bits & state.disabled, 'true');
    }
    if (role === choice) element.setAttribute('aria-pressed', bits & state.chosen ? 'true' : 'false');
    const scale = Hangtime.scale(), { style } = element;
    style.left = `${x0 / scale}px`;
    style.top = `${y0 / scale}px`;
    style.width = `${(x1 - x0) / scale}px`;
    style.height = `${(y1 - y0) / scale}px`;
    if (container.children[place] !== element) container.insertBefore(element, container.children[place] || null);
  };

  Hangtime.unmirror = key => {
    const known = nodes.get(key);
    if (known) known.element.remove();
    nodes.delete(key);
  };

  Hangtime.focusMirrored = key => {
    const known = nodes.get(key);
    if (!known || document.activeElement === known.element) return;
    quiet = true; // it comes from there
    known.element.focus({ preventScroll: true });
    quiet = false;
  };

  Hangtime.announce = said => { live.textContent = said; };
})();
