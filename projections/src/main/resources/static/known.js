/* Slides through what was known of a fruit. Without it the form has a list of the same times. */
(() => {
  'use strict';

  const form = document.querySelector('[data-known]');
  if (!form) {
    return;
  }
  const list = form.elements.namedItem('at');
  const slider = document.createElement('input');
  slider.type = 'range';
  slider.min = 0;
  slider.max = list.options.length - 1;
  slider.value = list.selectedIndex;
  slider.setAttribute('aria-label', 'As it was known');
  const say = () => slider.setAttribute('aria-valuetext', list.options[slider.value].text);
  say();
  slider.addEventListener('input', () => {
    list.selectedIndex = Number(slider.value);
    say();
  });
  slider.addEventListener('change', () => form.requestSubmit());
  list.addEventListener('change', () => form.requestSubmit());
  form.insertBefore(slider, list.nextSibling);
})();
