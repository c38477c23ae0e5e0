/*
 * The demo clock. Builds itself into every [data-clock] element, with the farm's zone in data-zone.
 * How far the visitor's clock is ahead of the server's stands in a cookie, in whole seconds.
 */
(() => {
  'use strict';

  const COOKIE = 'duskpeg-ahead';
  const OPEN = 'duskpeg-clock-open';
  const HOUR = 3600;

  const place = document.querySelector('[data-clock]');
  const zone = place?.dataset.zone || 'UTC';

  /** How far this device's own clock is behind the server's, in milliseconds. */
  let skew = 0;

  function ahead() {
    const found = document.cookie.match(/(?:^|;\s*)duskpeg-ahead=(-?\d{1,9})(?:;|$)/);
    return found ? Number(found[1]) : 0;
  }

  const real = () => Date.now() + skew;
  const now = () => new Date(real() + ahead() * 1000);

  const formats = new Map();
  function format(date, options) {
    const key = JSON.stringify(options);
    if (!formats.has(key)) {
      formats.set(key, new Intl.DateTimeFormat('en-GB', { timeZone: zone, hourCycle: 'h23', ...options }));
    }
    return formats.get(key).format(date);
  }
  const clockTime = (date) => format(date, { hour: '2-digit', minute: '2-digit' });
  const fullTime = (date) =>
    format(date, { weekday: 'short', day: 'numeric', month: 'short' }) + ' ' +
    format(date, { hour: '2-digit', minute: '2-digit', second: '2-digit' });

  window.duskpegClock = { now, clockTime, zone };

  if (!place) {
    return;
  }

  /** What the farm's wall clock shows at that moment, written as if it were UTC. */
  function wall(millis) {
    const parts = {};
    for (const part of new Intl.DateTimeFormat('en-GB', {
      timeZone: zone, hourCycle: 'h23', year: 'numeric', month: 'numeric', day: 'numeric',
      hour: 'numeric', minute: 'numeric', second: 'numeric',
    }).formatToParts(millis)) {
      parts[part.type] = Number(part.value);
    }
    return Date.UTC(parts.year, parts.month - 1, parts.day, parts.hour, parts.minute, parts.second);
  }

  /** The moment at which the farm's wall clock shows that time, so many days from the real today. */
  function farmTime(days, hour, minute) {
    const today = new Date(wall(real()));
    const wanted = Date.UTC(today.getUTCFullYear(), today.getUTCMonth(), today.getUTCDate() + days, hour, minute);
    let moment = wanted;
    for (let i = 0; i < 2; i++) {
      moment += wanted - wall(moment);
    }
    return moment;
  }

  function goAhead(seconds) {
    sessionStorage.setItem(OPEN, fold.open ? 'yes' : 'no');
    document.cookie = seconds === 0
      ? `${COOKIE}=; path=/; SameSite=Lax; max-age=0`
      : `${COOKIE}=${seconds}; path=/; SameSite=Lax`;
    location.reload();
  }
  function goTo(moment) {
    fold.open = false;
    goAhead(Math.round((moment - real()) / 1000));
  }

  function make(tag, className, text) {
    const made = document.createElement(tag);
    if (className) {
      made.className = className;
    }
    if (text) {
      made.textContent = text;
    }
    return made;
  }

  function button(text, act) {
    const made = make('button', '', text);
    made.type = 'button';
    made.addEventListener('click', act);
    return made;
  }

  const fold = make('details');
  const summary = make('summary');
  const time = make('time');
  const real1 = make('span', 'clock-real');
  summary.append(make('span', '', 'Demo clock'), time, real1, make('span', 'clock-change', 'Change'));
  const choices = make('div', 'clock-choices');
  choices.append(
    button('This evening 17:00', () => goTo(farmTime(0, 17, 0))),
    button('Tomorrow 05:30', () => goTo(farmTime(1, 5, 30))),
    button('Tomorrow 07:30', () => goTo(farmTime(1, 7, 30))),
    button('Tomorrow 09:50', () => goTo(farmTime(1, 9, 50))),
    button('1 hour back', () => goAhead(ahead() - HOUR)),
    button('1 hour on', () => goAhead(ahead() + HOUR)),
    button('Real time', () => goTo(real())),
  );
  fold.append(summary, choices, make('p', 'clock-note', `Only for you, only in this demo. Farm time, ${zone.replaceAll('_', ' ')}.`));
  fold.open = sessionStorage.getItem(OPEN) === 'yes';
  place.append(fold);

  function tick() {
    const shown = now();
    time.dateTime = shown.toISOString();
    time.textContent = fullTime(shown);
    real1.textContent = ahead() === 0 ? 'real time' : 'not the real time';
  }
  tick();
  setInterval(tick, 1000);

  // A device with a wrong clock would show a wrong demo time: ask the server for its own.
  fetch('/icon.svg', { method: 'HEAD', cache: 'no-store' }).then((answer) => {
    const server = Date.parse(answer.headers.get('Date') ?? '');
    if (Math.abs(server - Date.now()) > 3000) {
      skew = server - Date.now();
      tick();
    }
  }).catch(() => { /* no signal: this device's own clock will do */ });
})();
