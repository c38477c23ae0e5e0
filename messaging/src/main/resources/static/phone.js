/*
 * A phone for any worker. It speaks to the server exactly as a text provider does: POST /field/text.
 * A text is kept until it was answered and always sent with the id it was first sent with, so that
 * it is neither lost nor counted twice.
 */
(() => {
  'use strict';

  const UNSENT = 'duskpeg-unsent';
  const WHO = 'duskpeg-who';
  const DRAFT = 'duskpeg-draft';
  const TALK = 'duskpeg-talk:';
  const KEPT = 200;
  const ANSWER_WITHIN = 15_000;
  const RETRY_FIRST = 2_000;
  const RETRY_LAST = 30_000;
  const RECEIVED = 'duskpeg-received:';
  const LOOK_EVERY = 1_500;

  const phone = document.querySelector('[data-phone]');
  const who = phone.querySelector('[data-who]');
  const strip = phone.querySelector('[data-strip]');
  const talk = phone.querySelector('[data-talk]');
  const heard = phone.querySelector('[data-heard]');
  const form = phone.querySelector('[data-write]');
  const words = phone.querySelector('[data-words]');
  const to = phone.dataset.to ?? '';

  const clock = window.duskpegClock ?? {
    now: () => new Date(),
    clockTime: (date) => date.toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' }),
  };

  /* Kept things. A browser that keeps nothing still sends. */

  function keeper(storage) {
    const memory = new Map();
    return {
      get(key, otherwise) {
        try {
          const kept = storage().getItem(key);
          return kept === null ? (memory.get(key) ?? otherwise) : JSON.parse(kept);
        } catch {
          return memory.get(key) ?? otherwise;
        }
      },
      set(key, value) {
        memory.set(key, value);
        try {
          storage().setItem(key, JSON.stringify(value));
        } catch { /* full or forbidden: memory holds it */ }
      },
    };
  }
  const lasting = keeper(() => localStorage);
  const session = keeper(() => sessionStorage);

  const unsent = () => lasting.get(UNSENT, []);
  const talkOf = (from) => session.get(TALK + from, []);
  const keepTalk = (from, said) => session.set(TALK + from, said.slice(-KEPT));

  /* The conversation. */

  const NOTES = {
    waiting: 'sending…',
    'no-signal': 'no signal, will send again',
    sent: 'sent',
    elsewhere: 'sent from another window',
    refused: 'not taken by the server, kept here',
  };

  function bubble(one) {
    const li = document.createElement('li');
    const mine = one.way === 'out';
    li.className = `said ${one.way}`;
    const from = document.createElement('span');
    from.className = 'vh';
    from.textContent = mine ? 'You: ' : 'Farm: ';
    const text = document.createElement('p');
    text.textContent = one.text;
    text.prepend(from);
    const small = document.createElement('small');
    const at = clock.clockTime(new Date(one.at));
    small.textContent = mine ? `${at} · you · ${NOTES[one.state]}` : `${at} · farm`;
    if (one.state === 'waiting' || one.state === 'no-signal') {
      li.classList.add('waiting');
    }
    if (one.state === 'refused') {
      li.classList.add('refused');
    }
    li.append(text, small);
    return li;
  }

  function draw() {
    const said = talkOf(who.value);
    if (said.length === 0) {
      const none = document.createElement('li');
      none.className = 'none';
      none.textContent = 'Nothing texted yet. Try one of the texts below, then send it with #.';
      talk.replaceChildren(none);
    } else {
      talk.replaceChildren(...said.map(bubble));
    }
    talk.scrollTop = talk.scrollHeight;
    const next = who.selectedOptions[0]?.dataset.next;
    strip.textContent = next ? `Next tie when this page opened: ${next}` : 'No ties in hand when this page opened.';
  }

  function add(from, one) {
    keepTalk(from, [...talkOf(from), one]);
    if (from === who.value) {
      draw();
    }
  }

  function mark(from, sid, state) {
    const said = talkOf(from);
    const one = said.find((each) => each.sid === sid && each.way === 'out');
    if (one && one.state !== state) {
      one.state = state;
      keepTalk(from, said);
      if (from === who.value) {
        draw();
      }
    }
  }

  /** What waits in this browser is shown in this window; what another window sent is no longer shown as waiting. */
  function agree() {
    const waiting = unsent();
    for (const one of waiting) {
      if (!talkOf(one.from).some((each) => each.sid === one.sid)) {
        add(one.from, { way: 'out', sid: one.sid, text: one.body, at: one.at, state: 'no-signal' });
      }
    }
    for (const option of who.options) {
      for (const each of talkOf(option.value)) {
        if ((each.state === 'waiting' || each.state === 'no-signal') && !waiting.some((one) => one.sid === each.sid)) {
          mark(option.value, each.sid, 'elsewhere');
        }
      }
    }
  }

  /* Sending, oldest first, one at a time, in one window at a time. */

  function newSid() {
    const bytes = crypto.getRandomValues(new Uint8Array(16));
    return 'BP' + Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
  }

  function drop(sid) {
    lasting.set(UNSENT, unsent().filter((one) => one.sid !== sid));
  }

  /** The answers; an error with {@code refused} where sending again would not help. */
  async function post(one) {
    const stop = new AbortController();
    const timer = setTimeout(() => stop.abort(), ANSWER_WITHIN);
    try {
      const answer = await fetch('/field/text', {
        method: 'POST',
        body: new URLSearchParams({ From: one.from, To: one.to, Body: one.body, MessageSid: one.sid }),
        signal: stop.signal,
      });
      const xml = await answer.text();
      if (!answer.ok) {
        const error = new Error(`status ${answer.status}`);
        error.refused = answer.status >= 400 && answer.status < 500 && ![408, 425, 429].includes(answer.status);
        throw error;
      }
      const read = new DOMParser().parseFromString(xml, 'text/xml');
      if (read.documentElement.nodeName !== 'Response') {
        throw new Error('not an answer to a text');
      }
      return Array.from(read.getElementsByTagName('Message'), (message) => message.textContent);
    } finally {
      clearTimeout(timer);
    }
  }

  let running = false;
  let timer = 0;
  let wait = RETRY_FIRST;

  async function sendAll() {
    let one;
    while ((one = unsent()[0])) {
      try {
        const answers = await post(one);
        drop(one.sid);
        mark(one.from, one.sid, 'sent');
        wait = RETRY_FIRST;
        for (const text of answers) {
          add(one.from, { way: 'in', sid: one.sid, text, at: clock.now().toISOString() });
        }
        heard.textContent = answers.length > 0 ? `Farm: ${answers.join(' ')}` : 'Sent. The farm did not answer.';
      } catch (error) {
        if (error.refused) {
          drop(one.sid);
          mark(one.from, one.sid, 'refused');
          heard.textContent = 'The server did not take the text. It is kept here.';
          continue;
        }
        mark(one.from, one.sid, 'no-signal');
        heard.textContent = 'No signal, will send again.';
        timer = setTimeout(flush, wait);
        wait = Math.min(2 * wait, RETRY_LAST);
        return;
      }
    }
  }

  async function flush() {
    clearTimeout(timer);
    if (running) {
      return;
    }
    running = true;
    try {
      if (navigator.locks) {
        await navigator.locks.request('duskpeg-sending', sendAll);
      } else {
        await sendAll();
      }
    } finally {
      running = false;
      agree();
    }
  }

  function send() {
    const body = words.value.trim();
    if (body === '' || who.value === '') {
      return;
    }
    const at = clock.now().toISOString();
    const one = { sid: newSid(), from: who.value, to, body, at };
    lasting.set(UNSENT, [...unsent(), one]);
    add(one.from, { way: 'out', sid: one.sid, text: body, at, state: 'waiting' });
    write('');
    wait = RETRY_FIRST;
    flush();
  }

  /* Texts that come by themselves. */

  async function receive() {
    const phoneOf = who.value;
    if (phoneOf === '' || document.hidden) {
      return;
    }
    const after = session.get(RECEIVED + phoneOf, 0);
    const answer = await fetch(`/phone/received?${new URLSearchParams({ phone: phoneOf, after, farm: phone.dataset.farm })}`);
    if (!answer.ok) {
      return;
    }
    for (const { id, words: text, made, delivered } of await answer.json()) {
      const sid = `received-${id}-${delivered}`;
      if (!talkOf(phoneOf).some((each) => each.sid === sid)) {
        add(phoneOf, { way: 'in', sid, text, at: made });
        heard.textContent = `Farm: ${text}`;
      }
      session.set(RECEIVED + phoneOf, Math.max(delivered, session.get(RECEIVED + phoneOf, 0)));
    }
  }

  async function keepReceiving() {
    try {
      await receive();
    } catch { /* no signal: it is asked again */ }
    setTimeout(keepReceiving, LOOK_EVERY);
  }

  /* Keys. They do not take the focus into the text, so that no second keyboard comes up on a real phone. */

  function write(text) {
    words.value = text;
    session.set(DRAFT, text);
  }

  function type(sign) {
    words.setRangeText(sign, words.selectionStart, words.selectionEnd, 'end');
    session.set(DRAFT, words.value);
  }

  function rub() {
    const start = words.selectionStart;
    const end = words.selectionEnd;
    words.setRangeText('', start === end ? Math.max(0, start - 1) : start, end, 'end');
    session.set(DRAFT, words.value);
  }

  phone.querySelector('.keys').addEventListener('click', (event) => {
    const key = event.target.closest('button');
    if (key?.dataset.key) {
      type(key.dataset.key);
    } else if (key && 'send' in key.dataset) {
      send();
    }
  });
  phone.querySelector('[data-rub]').addEventListener('click', rub);
  phone.querySelector('.tries').addEventListener('click', (event) => {
    const tried = event.target.closest('button')?.dataset.try;
    if (tried) {
      write(tried);
      words.setSelectionRange(tried.length, tried.length);
    }
  });
  words.addEventListener('input', () => session.set(DRAFT, words.value));
  words.addEventListener('keydown', (event) => {
    if (event.key === 'Enter' && !event.shiftKey && !event.isComposing) {
      event.preventDefault();
      send();
    }
  });
  form.addEventListener('submit', (event) => {
    event.preventDefault();
    send();
  });
  who.addEventListener('change', () => {
    lasting.set(WHO, who.value);
    draw();
  });
  window.addEventListener('online', flush);
  window.addEventListener('storage', (event) => {
    if (event.key === UNSENT) {
      agree();
    }
  });

  const remembered = lasting.get(WHO, '');
  if (Array.from(who.options).some((option) => option.value === remembered)) {
    who.value = remembered;
  }
  write(session.get(DRAFT, ''));
  words.setSelectionRange(words.value.length, words.value.length);
  agree();
  draw();
  flush();
  keepReceiving();
})();
