/* Slides through a morning as it was known at each time. Without it the form asks for a time and loads the page. */
(() => {
  'use strict';

  const form = document.querySelector('[data-replay]');
  const place = document.querySelector('[data-board]');
  if (!form || !place) {
    return;
  }

  const { first, last, at } = form.dataset;
  const field = form.elements.namedItem('at');
  const minutes = (clock) => Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3));
  const clock = (minute) =>
    String(Math.floor(minute / 60)).padStart(2, '0') + ':' + String(minute % 60).padStart(2, '0');

  const slider = document.createElement('input');
  slider.type = 'range';
  slider.id = 'slide';
  slider.min = first;
  slider.max = last;
  slider.step = 1;
  slider.value = at ? minutes(at) : last;
  slider.setAttribute('aria-label', 'As it was known at');
  const say = () => slider.setAttribute('aria-valuetext', clock(Number(slider.value)));
  say();
  form.append(slider);

  const address = (path, time) => {
    const asked = new URLSearchParams(new FormData(form));
    asked.set('at', time);
    return `${path}?${asked}`;
  };

  let asking = null;
  let wanted = null;

  /** Asks for one time after the other; those that were slid over meanwhile are left out. */
  async function show(time) {
    wanted = time;
    if (asking) {
      return;
    }
    while (wanted) {
      asking = wanted;
      wanted = null;
      try {
        const answer = await fetch(address('/board/live', asking));
        if (!answer.ok) {
          throw new Error(answer.status);
        }
        place.innerHTML = await answer.text();
        place.dispatchEvent(new Event('duskpeg:swapped'));
        history.replaceState(null, '', address('/board', asking));
      } catch {
        location.assign(address('/board', asking)); // the browser says best what is wrong
        return;
      }
    }
    asking = null;
  }

  slider.addEventListener('input', () => {
    field.value = clock(Number(slider.value));
    say();
    if (at) {
      show(field.value);
    }
  });
  if (!at) {
    // The live board goes on until a time is chosen.
    slider.addEventListener('change', () => location.assign(address('/board', field.value) + '#slide'));
  } else if (location.hash === '#slide') {
    slider.focus();
  }
})();
