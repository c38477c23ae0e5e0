/* Keeps the number of things that wait in the navigation up to date, and says on the inbox page when it is not. */
(() => {
  'use strict';

  const EVERY = 15_000;
  const badges = document.querySelectorAll('[data-waiting]');
  const newer = document.querySelector('[data-newer]');
  if (badges.length === 0) {
    return;
  }

  async function look() {
    if (document.hidden) {
      return;
    }
    try {
      const answer = await fetch('/api/inbox/waiting', { cache: 'no-store' });
      if (!answer.ok) {
        return;
      }
      const { waiting } = await answer.json();
      for (const badge of badges) {
        badge.classList.toggle('none', waiting === 0);
        badge.querySelector('b').textContent = waiting;
      }
      if (newer && waiting !== Number(newer.dataset.newer)) {
        newer.hidden = false;
      }
    } catch { /* no signal: the next look will tell */ }
  }

  setInterval(look, EVERY);
  document.addEventListener('visibilitychange', look);
})();
