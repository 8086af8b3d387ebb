// @ts-check
// Pair: the same carrier in both ends, one transmitter live on it, link by link and step by step.

import { formatClock, formatFrequency, pairing, pairingTap, parseFrequency } from '../pkg/spurless_wasm.js';
import { h, plural, show } from './dom.js';
import { figures } from './links.js';
import { minutes } from './day.js';
import { message } from './fields.js';
import { sentence } from './frame.js';

/** @typedef {import('../app.js').Page} Page */
/** @typedef {import('../pkg/spurless_wasm.js').PairingView} PairingView */

/** What the core said to the last tap. */
let refusal = '';

/** @type {{ key: string, view: PairingView | null, wrong: string }} */
let known = { key: '', view: null, wrong: '' };

/** Pairing as it stands. @param {Page} page @returns {{ view: PairingView | null, wrong: string }} */
export function paired(page) {
  const [json, carriers] = [page.json(), page.carriers()];
  const key = `${json}${carriers}`;
  if (known.key === key) return known;
  try {
    known = { key, view: pairing(json, Uint32Array.from(carriers)), wrong: '' };
  } catch (error) {
    known = { key, view: null, wrong: message(error) };
  }
  return known;
}

/** @param {Page} page @param {string} what @param {object} event */
export function tap(page, what, event) {
  try {
    refusal = '';
    page.edit(what, (shoot) => void (shoot.pairing = pairingTap(page.json(), Uint32Array.from(page.carriers()), minutes(), event)));
  } catch (error) {
    refusal = message(error);
  }
  page.render();
}

/** A link, or one of its transmitters, is about to be taken out of the shoot. @param {any} shoot @param {object} event */
export function forget(shoot, event) {
  if (shoot.pairing) shoot.pairing = pairingTap(JSON.stringify(shoot), new Uint32Array(), minutes(), event);
}

/** @param {PairingView} view */
const ready = (view) => view.links.filter((link) => link.ready).length;

/** One line for the glance; empty when all is well. @param {Page} page */
export function pairingWord(page) {
  const { view, wrong } = paired(page);
  if (!view) return { loud: false, text: wrong };
  const loud = view.warnings.find((warning) => warning.loud);
  if (loud) return { loud: true, text: loud.text };
  const planned = view.links.filter((link) => link.planned_hz).length;
  return { loud: false, text: ready(view) === planned ? '' : `${ready(view)} of ${plural(planned, 'link')} paired and live.` };
}

/** @param {Page} page @param {PairingView} view */
function answer(page, view) {
  const planned = view.links.filter((link) => link.planned_hz).length;
  if (view.links.length === 0) return 'No links yet. Add them under Carriers.';
  if (planned === 0) return 'No carriers to pair yet. Plan them first.';
  if (!view.steps.some((step) => !step.done)) return `${plural(planned, 'link')} paired, one transmitter live on each.`;
  return `${ready(view)} of ${plural(planned, 'link')} paired and live.`;
}

/** The displays show something else than what was asked for. @param {Page} page @param {PairingView['steps'][0]} step */
function otherwise(page, step) {
  const key = 'pair-shown';
  const [[, event]] = step.taps;
  const take = async () => {
    const draft = page.store.drafts[key] ?? '';
    const link = step.link ?? 0;
    try {
      const hz = parseFrequency(draft);
      const [kind] = Object.keys(event);
      page.store.draft(key, null);
      const { reasons, near } = await page.engine.ask('why', { shoot: page.json(), link, carrier: hz, carriers: page.carriers() });
      tap(page, `Noted ${formatFrequency(hz)}`, { [kind]: { .../** @type {any} */ (event)[kind], carrier_hz: hz } });
      const open = [near.below_hz, near.above_hz].filter(Boolean).map(formatFrequency).join(' or ');
      refusal = hz === step.dial_hz || reasons.length === 0 ? '' : `${formatFrequency(hz)} MHz will not do for ${page.view.links[link].label}: ${sentence(reasons[0])}${open && ` Open beside the others: ${open} MHz.`}`;
      /** @type {HTMLDetailsElement} */ (document.getElementById('pair-other')).open = false;
    } catch (error) {
      refusal = `"${draft}": ${message(error)}`;
    }
    page.render();
  };
  return h('details', { id: 'pair-other' },
    h('summary', null, 'It shows another number'),
    h('form', { class: 'inside', onsubmit: (/** @type {Event} */ event) => { event.preventDefault(); void take(); } },
      h('div', { class: 'field' },
        h('label', { for: key }, 'What it shows', h('span', { class: 'unseen' }, ' in MHz')),
        h('div', { class: 'with-unit' },
          h('input', { id: key, value: page.store.drafts[key] ?? '', inputmode: 'decimal', autocomplete: 'off', oninput: (/** @type {any} */ e) => page.store.draft(key, e.target.value) }),
          h('span', { class: 'unit', 'aria-hidden': 'true' }, 'MHz'))),
      h('button', { type: 'submit', id: 'pair-note' }, 'Note it')));
}

/** @param {Page} page @param {PairingView} view */
function next(page, view) {
  const step = view.steps.find((one) => !one.done);
  if (!step) return null;
  const names = view.links[step.link ?? -1]?.transmitters ?? [];
  return h('div', { class: 'step', id: 'pair-step' },
    h('h3', null, 'Next'),
    h('p', { class: 'answer', id: 'pair-text', role: 'status' }, step.text),
    step.dial_hz && h('p', { class: 'dial' }, h('span', { class: 'digits' }, figures(step.dial_hz)), h('span', { class: 'dial-unit' }, ' MHz')),
    h('div', { class: 'choices' },
      step.taps.map(([words, event], at) => h('button', { type: 'button', class: at === 0 ? 'main' : null, id: `pair-tap-${at}`,
        onclick: () => tap(page, `${words}: ${step.text}`.slice(0, 80), event) }, words)),
      // Which one goes on is the operator's choice.
      step.taps.length === 0 && names.map((one, transmitter) => h('button', { type: 'button', class: transmitter === 0 ? 'main' : null, id: `pair-live-${transmitter}`,
        onclick: () => tap(page, `${one.label} is live`, { on: { at: { link: step.link, transmitter } } }) }, `${one.label} is live`))),
    step.dial_hz && otherwise(page, step));
}

const LIVE = { unknown: 'not looked at: it may be on', off: 'off', on: 'live' };

/** @param {Page} page @param {PairingView} view @param {number} link */
function opened(page, view, link) {
  const seen = view.links[link];
  return h('div', { class: 'inside' },
    seen.swap && h('div', { class: 'step', id: `pair-swap-${link}` },
      h('p', { class: 'answer' }, seen.swap),
      h('div', { class: 'choices' }, h('button', { type: 'button', class: 'main', id: `pair-done-${link}`, onclick: () => tap(page, seen.swap ?? '', { done: { link } }) }, 'Done'))),
    h('ul', { class: 'plain-list' }, seen.transmitters.map((one, transmitter) => {
      const at = { link, transmitter };
      return h('li', { class: 'end' },
        h('p', null, h('strong', null, one.label), h('small', null,
          [LIVE[one.live], one.set_hz && `set to ${formatFrequency(one.set_hz)} MHz`, one.confirmed && one.confirmed_min !== null && `proved at ${formatClock(one.confirmed_min)}`].filter(Boolean).join(', '))),
        h('div', { class: 'choices' },
          one.live !== 'on' && seen.transmitters.length > 1 && h('button', { type: 'button', id: `pair-swap-to-${link}-${transmitter}`,
            onclick: () => tap(page, `Swap to ${one.label}`, { swap: { at } }) }, `Swap to this one`),
          one.live !== 'off' && h('button', { type: 'button', id: `pair-off-${link}-${transmitter}`, onclick: () => tap(page, `${one.label} is off`, { off: { at } }) }, 'It is off'),
          one.live !== 'on' && h('button', { type: 'button', id: `pair-on-${link}-${transmitter}`, onclick: () => tap(page, `${one.label} is on`, { on: { at } }) }, 'It is on')));
    })));
}

/** @param {Page} page @param {PairingView} view */
function links(page, view) {
  return h('ul', { class: 'rows', id: 'pair-links' }, view.links.map((link, at) => {
    const live = link.transmitters.filter((one) => one.live === 'on').map((one) => one.label);
    const word = link.ready ? 'ready' : link.planned_hz ? 'not yet' : 'no carrier';
    return h('li', { id: `pair-${at}-row` }, h('details', { id: `pair-${at}-fold` },
      h('summary', null, h('span', { class: 'grow' }, h('span', { class: 'lead' }, link.label), ' ', h('span', null, word),
        h('small', null, live.length > 0 ? `${live.join(' and ')} live` : link.transmitters.some((one) => one.live === 'unknown') ? 'not looked at' : 'off')),
      link.planned_hz && h('span', { class: 'figures' }, formatFrequency(link.planned_hz))),
      opened(page, view, at)));
  }));
}

/** @param {Element} where @param {Page} page */
export function showPair(where, page) {
  const { view, wrong } = paired(page);
  if (!view) return show(where, h('p', { class: 'wrong' }, wrong));
  const [loud, soft] = [view.warnings.filter((one) => one.loud), view.warnings.filter((one) => !one.loud)];
  const planned = view.links.some((link) => link.planned_hz);
  return show(where,
    h('p', { class: loud.length > 0 ? 'answer stop-text' : 'answer', id: 'pair-answer', role: 'status' }, loud[0]?.text ?? answer(page, view)),
    refusal && h('p', { class: 'wrong', role: 'alert', id: 'pair-refusal' }, refusal),
    loud.length > 1 && h('div', { class: 'stack', id: 'pair-loud' }, loud.slice(1).map((one) => h('p', { class: 'wrong' }, one.text))),
    planned && next(page, view),
    planned && links(page, view),
    soft.length > 0 && h('div', { class: 'lines', id: 'pair-warnings' }, h('h3', null, 'To be seen to'),
      h('ul', { class: 'plain-list' }, soft.map((one) => h('li', null, one.text)))),
    planned && h('details', { id: 'pair-walk' }, h('summary', null, 'The whole walk'),
      h('ol', { class: 'inside' }, view.steps.map((step) => h('li', null, h('span', { class: 'tick-mark', 'aria-hidden': 'true' }, step.done ? '✓' : '·'), ' ', step.text,
        h('span', { class: 'unseen' }, step.done ? ' (done)' : ' (open)'))))));
}
