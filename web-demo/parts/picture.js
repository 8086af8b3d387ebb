// @ts-check
// The spectrum, from left to right by frequency, and the question "why not here?".

import { formatFrequency, parseFrequency } from '../pkg/spurless_wasm.js';
import { h, show } from './dom.js';
import { message } from './fields.js';
import { sentence } from './frame.js';
import { drawing, placeOf } from './drawing.js';

/** @typedef {import('../app.js').Page} Page */

/** What the picture shows now. */
const now = {
  link: 0,
  /** @type {number | null} */ carrier: null,
  low: 0,
  high: 0,
  /** The span that `low` and `high` were chosen for. */ span: '',
  typed: '',
  wrong: '',
  /** @type {any} */ data: null,
  /** What is drawn. @type {any[]} */ drawn: [],
  asked: '',
  /** @type {any} */ why: null,
  askedWhy: '',
};

/** Narrower than this nothing new is to be seen. */
const NARROWEST_HZ = 1_000_000;

/** @param {Element} where @param {Page} page */
export function showPicture(where, page) {
  const { view } = page;
  const span = JSON.stringify(view.span);
  if (now.span !== span) Object.assign(now, { span, low: view.span.low_hz, high: view.span.high_hz, carrier: null, why: null, data: null });
  if (now.link >= view.links.length) now.link = 0;
  const all = now.low <= view.span.low_hz && now.high >= view.span.high_hz;
  const button = (/** @type {string} */ id, /** @type {string} */ name, /** @type {string} */ sign, /** @type {() => void} */ act, /** @type {boolean} */ off) =>
    h('button', { type: 'button', id, 'aria-label': name, onclick: () => (act(), page.render()), disabled: off }, sign);
  show(where,
    h('h3', null, 'The air, and who is where'),
    h('div', { class: 'ask' },
      h('div', { class: 'field' }, h('label', { for: 'ask-link' }, 'For link'),
        h('select', { id: 'ask-link', value: String(now.link), onchange: (/** @type {any} */ event) => {
          now.link = Number(event.target.value);
          page.render();
        } }, view.links.map((/** @type {any} */ link, /** @type {number} */ at) => h('option', { value: String(at), selected: at === now.link }, link.label)))),
      button('ask-less', 'One step down', '−', () => stepBy(page, -1), false),
      h('div', { class: 'field' }, h('label', { for: 'ask-carrier' }, 'Why not', h('span', { class: 'unseen' }, ' this carrier, in MHz')),
        h('div', { class: 'with-unit' },
          h('input', { id: 'ask-carrier', inputmode: 'decimal', autocomplete: 'off', value: now.typed, 'aria-describedby': now.wrong ? 'ask-wrong' : 'why',
            oninput: (/** @type {any} */ event) => void (now.typed = event.target.value),
            onchange: (/** @type {any} */ event) => askTyped(event.target.value, page) }),
          h('span', { class: 'unit', 'aria-hidden': 'true' }, 'MHz'))),
      button('ask-more', 'One step up', '+', () => stepBy(page, 1), false)),
    now.wrong && h('p', { class: 'wrong', id: 'ask-wrong' }, sentence(now.wrong)),
    h('div', { class: 'air', id: 'air', tabindex: '0', role: 'slider', 'aria-label': 'Carrier to ask about', 'data-own': true,
      'aria-valuemin': view.span.low_hz / 1e6, 'aria-valuemax': view.span.high_hz / 1e6, 'aria-valuenow': (now.carrier ?? now.low) / 1e6,
      'aria-valuetext': now.carrier === null ? 'nothing asked yet' : `${formatFrequency(now.carrier)} MHz`,
      onpointerdown: (/** @type {any} */ event) => touch(event, page), onpointermove: (/** @type {any} */ event) => event.buttons && touch(event, page),
      onkeydown: (/** @type {any} */ event) => key(event, page) }),
    h('p', { class: 'quiet small' }, caption(page)),
    h('div', { class: 'zoom', role: 'group', 'aria-label': 'What the picture shows' },
      button('zoom-left', 'Further down', '←', () => shift(view, -0.5), all || now.low <= view.span.low_hz),
      button('zoom-out', 'Wider: show more', 'Wider', () => zoom(view, 2), all),
      button('zoom-in', 'Closer: show less, larger', 'Closer', () => zoom(view, 0.5), now.high - now.low <= NARROWEST_HZ),
      button('zoom-right', 'Further up', '→', () => shift(view, 0.5), all || now.high >= view.span.high_hz)),
    answer(page),
    h('details', { id: 'key' }, h('summary', null, 'How to read the picture'),
      h('ul', { class: 'plain-list inside' }, [
        'Hatched slabs hang from the top: television multiplexes, with their channel number. Ruled slabs: closed or not permitted.',
        'The line is the strongest that was heard at each place; the dashes are the floor.',
        'Blank with dotted edges: not heard. Nothing is promised there.',
        'Pins with open heads: foreign carriers. Solid flags: your links. Outlined flags: spares.',
        'Ticks below the axis: products of all carriers. A line joins one to a carrier only where it hits.',
        'The bar at the bottom is for the chosen link: full where a carrier is open to it, half where only the others speak against it, a line where all is closed.',
      ].map((words) => h('li', null, words)))));
  ask(page);
  draw(page);
}

/** What the lines of the picture stand for, in figures. @param {Page} page */
function caption({ air }) {
  const { summary } = air;
  const from = `${formatFrequency(now.low)} to ${formatFrequency(now.high)} MHz.`;
  if (!summary) return `${from} Nothing was swept.`;
  return `${from} ${summary.floor_db === null ? 'The floor is unknown.' : `Dashes: the floor, ${summary.floor_db.toFixed(1)} dB.`}`;
}

/** @param {Page} page */
function answer(page) {
  const label = page.view.links[now.link].label;
  if (now.carrier === null || !now.why) return h('div', { class: 'why', id: 'why' }, h('p', { class: 'quiet' }, `Touch the picture, or type a carrier: a sentence says why it is or is not open to ${label}.`));
  const { reasons, near } = now.why;
  const here = formatFrequency(now.carrier);
  const own = page.carriers()[now.link] === now.carrier;
  const open = reasons.length === 0;
  const jump = (/** @type {number | null} */ hz, /** @type {string} */ id, /** @type {string} */ side) => hz !== null && h('button', { type: 'button', id, onclick: () => (point(hz), page.render()) }, `${formatFrequency(hz)}`, h('small', null, side));
  return h('div', { class: 'why', id: 'why', role: 'status' },
    h('p', { class: 'why-head' }, h('span', { class: 'figures' }, `${here}\u00a0MHz`), ` for ${label}: `, h('strong', { class: open ? '' : 'stop-text' }, open ? (own ? 'its carrier.' : 'open.') : 'not available.')),
    !open && h('ul', { class: 'plain-list' }, reasons.slice(0, 5).map((/** @type {string} */ words) => h('li', null, sentence(capital(words))))),
    reasons.length > 5 && h('p', { class: 'quiet' }, `And ${reasons.length - 5} more against it.`),
    open && !own && h('p', null, 'Nothing speaks against it beside the others as planned.'),
    h('div', { class: 'choices near' },
      !open && jump(near.below_hz, 'near-below', 'nearest open below'),
      !open && jump(near.above_hz, 'near-above', 'nearest open above'),
      open && !own && h('button', { type: 'button', id: 'keep-here', onclick: () => {
        page.edit(`Kept ${label} on ${here}`, (shoot) => Object.assign(shoot.links[now.link], { carrier_hz: now.carrier, fixed: true }));
        page.say(`${label} stays on ${here}. Plan again for the others.`, { undo: true });
      } }, `Keep ${label} on ${here}`)));
}

/** @param {string} words */
const capital = (words) => words.charAt(0).toUpperCase() + words.slice(1);

/** Points at a carrier, and shows it if it lies outside. @param {number} hz */
function point(hz) {
  now.carrier = hz;
  now.typed = formatFrequency(hz);
  now.wrong = '';
  const half = (now.high - now.low) / 2;
  if (hz < now.low || hz > now.high) [now.low, now.high] = [hz - half, hz + half];
}

/** @param {string} typed @param {Page} page */
function askTyped(typed, page) {
  try {
    if (typed.trim()) point(parseFrequency(typed));
    else now.carrier = null;
    now.wrong = '';
  } catch (error) {
    now.wrong = message(error);
  }
  page.render();
}

/** The step of the chosen link's receiver: what its own buttons would do. @param {Page} page */
const windowsOf = (page) => page.store.here.shoot.links[now.link].windows;

/** @param {Page} page @param {number} hz */
function onStep(page, hz) {
  const windows = windowsOf(page);
  const own = windows.find((/** @type {any} */ one) => hz >= one.low_hz && hz <= one.high_hz) ?? windows[0];
  return own.low_hz + Math.round((hz - own.low_hz) / own.step_hz) * own.step_hz;
}

/** @param {Page} page @param {number} steps */
function stepBy(page, steps) {
  const from = now.carrier ?? (page.carriers()[now.link] || onStep(page, (now.low + now.high) / 2));
  const { low_hz: low, high_hz: high } = page.view.span;
  point(onStep(page, Math.min(high, Math.max(low, from + steps * windowsOf(page)[0].step_hz))));
}

/** @param {PointerEvent} event @param {Page} page */
function touch(event, page) {
  const box = /** @type {Element} */ (event.currentTarget).getBoundingClientRect();
  const share = Math.min(1, Math.max(0, (event.clientX - box.left) / box.width));
  point(onStep(page, now.low + share * (now.high - now.low)));
  page.render();
}

/** @param {KeyboardEvent} event @param {Page} page */
function key(event, page) {
  const steps = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1, PageDown: -40, PageUp: 40 }[event.key];
  if (steps) stepBy(page, steps);
  else if (event.key === 'Home') point(onStep(page, now.low));
  else if (event.key === 'End') point(onStep(page, now.high));
  else return;
  event.preventDefault();
  page.render();
}

/** @param {any} view @param {number} factor */
function zoom(view, factor) {
  const middle = now.carrier !== null && now.carrier > now.low && now.carrier < now.high ? now.carrier : (now.low + now.high) / 2;
  const half = Math.max(NARROWEST_HZ, (now.high - now.low) * factor) / 2;
  within(view, middle - half, middle + half);
}

/** @param {any} view @param {number} by of what is shown */
const shift = (view, by) => within(view, now.low + by * (now.high - now.low), now.high + by * (now.high - now.low));

/** @param {any} view @param {number} low @param {number} high */
function within({ span }, low, high) {
  const width = Math.min(high - low, span.high_hz - span.low_hz);
  // Edges that can be read aloud.
  const round = (/** @type {number} */ hz) => Math.round(hz / 100_000) * 100_000;
  const from = Math.min(Math.max(low, span.low_hz), span.high_hz - width);
  now.low = from <= span.low_hz ? span.low_hz : round(from);
  now.high = from + width >= span.high_hz ? span.high_hz : round(from + width);
}

/** Asks the worker for what is not known yet. @param {Page} page */
function ask(page) {
  const host = document.getElementById('air');
  if (!host) return;
  const carriers = page.carriers();
  const shoot = page.json();
  // What was heard changes with the reading, not with the shoot.
  const heard = JSON.stringify(page.air.summary);
  const columns = Math.max(100, Math.round(host.clientWidth || 358));
  const basis = JSON.stringify([shoot, carriers, heard, now.link]);
  const picture = JSON.stringify([basis, now.low, now.high, columns]);
  if (picture !== now.asked) {
    now.asked = picture;
    page.engine.ask('picture', { shoot, link: now.link, carriers, low: now.low, high: now.high, columns }).then((data) => {
      if (now.asked !== picture) return;
      now.data = { ...data, low: now.low, high: now.high };
      draw(page);
    }, (error) => page.say(message(error)));
  }
  if (now.carrier === null) return void (now.why = null);
  const question = JSON.stringify([basis, now.carrier]);
  if (question === now.askedWhy) return;
  now.askedWhy = question;
  page.engine.ask('why', { shoot, link: now.link, carrier: now.carrier, carriers }).then((why) => {
    if (now.askedWhy !== question) return;
    now.why = why;
    page.render();
  }, (error) => page.say(message(error)));
}

/** @param {Page} page */
function draw(page) {
  const host = document.getElementById('air');
  if (!host || !host.clientWidth) return;
  const data = now.data?.low === now.low && now.data?.high === now.high ? now.data : null;
  const wanted = [host, now.asked, data, now.carrier, host.clientWidth, getComputedStyle(document.documentElement).fontSize, page.air.unheard];
  if (wanted.every((one, at) => one === now.drawn[at])) return;
  now.drawn = wanted;
  const picture = drawing({ page, low: now.low, high: now.high, carrier: now.carrier, data, width: host.clientWidth });
  host.replaceChildren(picture);
}

/** The picture as a table. @param {Page} page */
export function pictureTable(page) {
  const rows = placeOf(page);
  return h('details', { id: 'picture-table' },
    h('summary', null, 'The picture as a table'),
    h('div', { class: 'inside wide', tabindex: '0', role: 'group', 'aria-label': 'Everything in the picture, by frequency' },
      h('table', null,
        h('thead', null, h('tr', null, h('th', { scope: 'col', class: 'number' }, 'MHz'), h('th', { scope: 'col' }, 'What'), h('th', { scope: 'col' }, 'Whose'))),
        h('tbody', null, rows.map(({ low, high, what, whose }) => h('tr', null,
          h('td', { class: 'number' }, formatFrequency(low), low !== high && h('span', { class: 'spare' }, `to ${formatFrequency(high)}`)),
          h('td', null, what), h('th', { scope: 'row' }, whose)))))));
}
