/* Says in words whether the board is live, and tells screen readers when its numbers change. */
(() => {
  'use strict';

  const wrapper = document.querySelector('[data-board]');
  const state = document.querySelector('[data-live]');
  const said = document.querySelector('[data-said]');
  if (!wrapper) {
    return;
  }

  /** What is unfolded stays so when the board is drawn anew. */
  const unfolded = new Set();
  wrapper.addEventListener('toggle', ({ target }) => {
    if (target.matches('[data-keep]') && target.isConnected) {
      unfolded[target.open ? 'add' : 'delete'](target.id);
    }
  }, true);
  const unfold = () => unfolded.forEach((id) => document.getElementById(id)?.setAttribute('open', ''));
  wrapper.addEventListener('duskpeg:swapped', unfold);

  if (!state) {
    return;
  }

  /** A whole board comes every 10 seconds; without one for this long the line is down, whatever it claims. */
  const SILENT_AFTER = 25_000;
  let heard = Date.now();
  let saying = wrapper.querySelector('[data-say]')?.textContent;

  const asOf = () => wrapper.querySelector('[data-asof]')?.textContent ?? '';

  function show(name, words) {
    if (state.dataset.state !== name) {
      state.dataset.state = name;
      state.textContent = words;
    }
  }

  const live = () => show('live', 'Live');
  const down = () => show('down', `Reconnecting. Numbers are as of ${asOf()}.`);

  wrapper.addEventListener('htmx:sseOpen', () => {
    heard = Date.now();
    live();
  });
  wrapper.addEventListener('htmx:sseError', down);
  wrapper.addEventListener('htmx:sseClose', down);
  wrapper.addEventListener('htmx:sseMessage', () => {
    heard = Date.now();
    live();
    unfold();
    const now = wrapper.querySelector('[data-say]')?.textContent;
    if (now && now !== saying) {
      saying = now;
      said.textContent = now;
    }
  });
  window.addEventListener('offline', down);
  setInterval(() => {
    if (Date.now() - heard > SILENT_AFTER) {
      down();
    }
  }, 5_000);

  show('wait', 'Connecting…');
})();
