/*
 * Calls from the built-in phone. It speaks to the server exactly as a carrier does: POST /field/voice,
 * and goes on as the answer says. Builds itself into [data-call]; while a call goes on, the phone's keys are its keys.
 */
(() => {
  'use strict';

  const VOICE = '/field/voice';
  const ALOUD = 'duskpeg-aloud';
  const ANSWER_WITHIN = 15_000;
  const READING = 55; // milliseconds a character, where nothing is spoken
  const SPEAKING = 160; // a character, after which a voice that never ended is taken to have

  const phone = document.querySelector('[data-phone]');
  const place = phone?.querySelector('[data-call]');
  if (!place) {
    return;
  }
  const who = phone.querySelector('[data-who]');
  const keys = phone.querySelector('.keys');

  function make(tag, className, text) {
    const made = document.createElement(tag);
    made.className = className;
    made.textContent = text;
    return made;
  }

  function button(className, text, act) {
    const made = make('button', className, text);
    made.type = 'button';
    made.addEventListener('click', act);
    return made;
  }

  const dial = button('dial', 'Call the farm', start);
  const end = button('hang-up', 'Hang up', () => (call ? hangUp() : close()));
  const state = make('p', 'call-state', '');
  state.setAttribute('role', 'status');
  const talk = make('ol', 'talk', '');
  talk.setAttribute('role', 'log');
  talk.setAttribute('aria-live', 'polite');
  talk.setAttribute('aria-label', 'What is said on the call');
  talk.tabIndex = 0;
  const keyed = make('output', 'call-keys', '');
  keyed.setAttribute('aria-label', 'Keyed so far');
  const aloud = document.createElement('input');
  aloud.type = 'checkbox';
  aloud.checked = remembered() !== 'no';
  aloud.addEventListener('change', () => {
    try {
      localStorage.setItem(ALOUD, aloud.checked ? 'yes' : 'no');
    } catch { /* forbidden: it holds for this page */ }
    if (!aloud.checked) {
      hush();
    }
  });
  const spoken = make('label', 'call-aloud', 'Speak aloud');
  spoken.prepend(aloud);
  const panel = make('div', 'call-panel', '');
  panel.hidden = true;
  const foot = make('div', 'call-foot', '');
  foot.append(spoken, end);
  panel.append(state, talk, keyed, foot);
  place.append(dial, panel);

  function remembered() {
    try {
      return localStorage.getItem(ALOUD);
    } catch {
      return null;
    }
  }

  /** The call that goes on: its id, its form, and what is waited for. */
  let call = null;

  function newSid() {
    const bytes = crypto.getRandomValues(new Uint8Array(16));
    return 'CA' + Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
  }

  function line(className, speaker, text, lang) {
    const li = make('li', `said ${className}`, '');
    const p = make('p', '', text);
    if (lang) {
      p.lang = lang;
    }
    p.prepend(make('span', 'vh', `${speaker}: `));
    li.append(p);
    talk.append(li);
    talk.scrollTop = talk.scrollHeight;
  }

  function start() {
    if (call || who.value === '') {
      return;
    }
    const mine = {
      form: { CallSid: newSid(), From: who.value, To: phone.dataset.to ?? '', Direction: 'inbound' },
      gathering: null,
    };
    call = mine;
    talk.replaceChildren();
    keyed.textContent = '';
    state.textContent = 'Calling the farm…';
    end.textContent = 'Hang up';
    end.className = 'hang-up';
    phone.classList.add('on-call');
    who.disabled = true;
    panel.hidden = false;
    dial.hidden = true;
    end.focus();
    follow(mine, VOICE, { CallStatus: 'ringing' });
  }

  function over(why) {
    call?.gathering?.stop();
    call = null;
    hush();
    state.textContent = why;
    keyed.textContent = '';
    end.textContent = 'Back to texts';
    end.className = 'back-to-texts';
    who.disabled = false;
  }

  function hangUp() {
    over('You hung up. What you confirmed is noted.');
  }

  function close() {
    phone.classList.remove('on-call');
    panel.hidden = true;
    dial.hidden = false;
    dial.focus();
  }

  async function post(mine, address, more) {
    const stop = new AbortController();
    const timer = setTimeout(() => stop.abort(), ANSWER_WITHIN);
    try {
      const answer = await fetch(address, {
        method: 'POST',
        body: new URLSearchParams({ ...mine.form, ...more }),
        signal: stop.signal,
      });
      if (!answer.ok) {
        throw new Error(`status ${answer.status}`);
      }
      const read = new DOMParser().parseFromString(await answer.text(), 'text/xml');
      if (read.documentElement.nodeName !== 'Response') {
        throw new Error('not an answer to a call');
      }
      return read.documentElement;
    } finally {
      clearTimeout(timer);
    }
  }

  /** Does what the server answers, and asks it again, until the call is over. */
  async function follow(mine, address, more) {
    let next = { address, more };
    while (next && call === mine) {
      let response;
      try {
        response = await post(mine, next.address, next.more);
      } catch {
        if (call === mine) {
          over('The line was cut. What you confirmed is noted.');
        }
        return;
      }
      next = call === mine ? await obey(mine, response, next.address) : null;
    }
    if (call === mine) {
      over('The farm hung up.');
    }
  }

  /** @returns what the server is asked next; nothing if the call is over */
  async function obey(mine, response, address) {
    const here = new URL(address, location.href);
    for (const verb of response.children) {
      if (call !== mine) {
        return null;
      }
      switch (verb.nodeName) {
        case 'Reject':
          over(verb.getAttribute('reason') === 'busy'
            ? 'Busy, and it cost you nothing. The farm calls your number back.'
            : 'The farm does not take the call.');
          return null;
        case 'Hangup':
          return null;
        case 'Redirect':
          return { address: new URL(verb.textContent.trim(), here), more: { CallStatus: 'in-progress' } };
        case 'Gather': {
          state.textContent = 'On the line';
          const got = await gather(mine, verb);
          if (got.digits !== '' || verb.getAttribute('actionOnEmptyResult') === 'true') {
            return {
              address: new URL(verb.getAttribute('action') ?? '', here),
              more: { CallStatus: 'in-progress', Digits: got.digits, FinishedOnKey: got.endedBy },
            };
          }
          break;
        }
        default:
          state.textContent = 'On the line';
          await prompt(verb);
      }
    }
    return null;
  }

  /* Prompts. The first key cuts them short. */

  let cut = () => {};

  function hush() {
    cut();
    window.speechSynthesis?.cancel();
  }

  function prompt(verb) {
    if (verb.nodeName === 'Say') {
      const lang = verb.getAttribute('language') ?? 'en-US';
      line('in', 'Farm', verb.textContent, lang);
      return say(verb.textContent, lang);
    }
    if (verb.nodeName === 'Play') {
      line('in', 'Farm', 'plays a recording');
      return play(verb.textContent.trim());
    }
    return Promise.resolve();
  }

  function canSpeak(lang) {
    return aloud.checked && (window.speechSynthesis?.getVoices() ?? [])
      .some((voice) => voice.lang.slice(0, 2).toLowerCase() === lang.slice(0, 2).toLowerCase());
  }

  /** What no voice can say is only shown, for as long as it takes to read. */
  function say(text, lang) {
    return new Promise((done) => {
      const speaks = canSpeak(lang);
      const timer = setTimeout(done, 1_000 + text.length * (speaks ? SPEAKING : READING));
      cut = () => {
        clearTimeout(timer);
        done();
      };
      if (speaks) {
        const utterance = new SpeechSynthesisUtterance(text);
        utterance.lang = lang;
        utterance.rate = 0.9;
        utterance.onend = utterance.onerror = () => cut();
        window.speechSynthesis.speak(utterance);
      }
    });
  }

  function play(address) {
    return new Promise((done) => {
      const audio = new Audio(address);
      cut = () => {
        audio.pause();
        done();
      };
      audio.onended = audio.onerror = done;
      audio.play().catch(done);
    });
  }

  /* Keys. */

  /** @returns {Promise<{digits: string, endedBy: string}>} what was keyed, and the key that ended it, if one did */
  function gather(mine, verb) {
    return new Promise((done) => {
      const enders = verb.getAttribute('finishOnKey') ?? '#';
      const most = Number(verb.getAttribute('numDigits') ?? Infinity);
      const wait = 1_000 * Number(verb.getAttribute('timeout') ?? 5);
      let digits = '';
      let timer = 0;

      function finish(endedBy) {
        clearTimeout(timer);
        mine.gathering = null;
        hush();
        if (digits !== '' || endedBy !== '') {
          line('out', 'You', digits + endedBy);
        }
        keyed.textContent = '';
        done({ digits, endedBy });
      }
      function arm() {
        clearTimeout(timer);
        timer = setTimeout(() => finish(''), wait);
      }

      mine.gathering = {
        stop: () => finish(''),
        press(key) {
          hush();
          if (enders.includes(key)) {
            finish(key);
            return;
          }
          digits += key;
          keyed.textContent = digits;
          if (digits.length >= most) {
            finish('');
          } else {
            arm();
          }
        },
      };

      (async () => {
        for (const one of verb.children) {
          if (digits !== '' || mine.gathering === null) {
            return;
          }
          await prompt(one);
        }
        if (digits === '' && mine.gathering !== null) {
          arm();
        }
      })();
    });
  }

  function press(key) {
    call?.gathering?.press(key);
  }

  keys.addEventListener('click', (event) => {
    const key = event.target.closest('button');
    if (!call || !key) {
      return;
    }
    event.stopPropagation();
    press('send' in key.dataset ? '#' : key.dataset.key.replace(' ', '*'));
  }, true);

  document.addEventListener('keydown', (event) => {
    if (call && /^[0-9*#]$/.test(event.key) && !event.ctrlKey && !event.metaKey && !event.altKey) {
      event.preventDefault();
      press(event.key);
    }
  });

  window.addEventListener('pagehide', hush);
})();
