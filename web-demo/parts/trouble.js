// @ts-check
// Trouble: what is wrong, the next quickest check, three causes in their order, and what mends them.

import { formatFrequency, symptoms, troubleTakeBack, troubleTap } from '../pkg/spurless_wasm.js';
import { h, show } from './dom.js';
import { minutes } from './day.js';
import { Standing } from './engine.js';
import { message } from './fields.js';
import { move, sparesOf } from './standing.js';

/** @typedef {import('../app.js').Page} Page */
/** @typedef {import('../pkg/spurless_wasm.js').TroubleView} TroubleView */

/** Where a tool is on the page. @type {Record<string, [string, string]>} */
const TOOLS = {
  battery: ['cells', 'Cells'], pairing: ['pair', 'Pair'], repair: ['carriers', 'Carriers'], survey: ['sweep', 'Sweep'], reach: ['reach', 'Reach'],
  'input-trim': ['levels', 'Levels'], 'output-trim': ['levels', 'Levels'], chain: ['levels', 'Levels'], take: ['take', 'Take'],
};
/** @type {Record<string, string>} */
const PLACES = { transmitter: 'at the transmitter', receiver: 'at the receiver', camera: 'at the camera', scene: 'in the scene' };
/** @type {Record<string, string>} */
const TOUCHES = { looks: 'nothing is touched', spares: 'a take does not hear it', spoils: 'a take would hear it' };

const standing = new Standing();
let refusal = '';

/** @param {Page} page */
const session = (page) => page.store.here.shoot.trouble;

/** @param {Page} page @param {string} what @param {(shoot: any) => void} change */
function edit(page, what, change) {
  try {
    refusal = '';
    page.edit(what, change);
  } catch (error) {
    refusal = message(error);
  }
  page.render();
}

/** @param {Page} page @param {string} what @param {object} event */
const tap = (page, what, event) => edit(page, what, (shoot) => void (shoot.trouble = troubleTap(shoot.trouble, event)));

/** One line for the glance; empty while nothing is looked for. @param {Page} page */
export function troubleWord(page) {
  const now = session(page);
  if (!now?.events?.length || now.events.at(-1).tried?.outcome === 'cured') return '';
  return `Trouble with ${now.link || 'a link'}${standing.answer && !standing.waiting ? `: ${standing.answer.report.answer}` : '.'}`;
}

/** @param {Page} page @returns {TroubleView | null} */
function look(page) {
  const now = session(page);
  const at = Math.max(0, page.view.links.findIndex((/** @type {any} */ link) => link.label === now?.link));
  const request = { shoot: page.json(), carriers: page.carriers(), spares: sparesOf(page, at), now: minutes() };
  standing.ask(page.engine, JSON.stringify([request, page.air.summary, page.air.reading !== null]), 'trouble', request, page.render);
  return standing.answer;
}

/** @param {Page} page */
function head(page) {
  const now = session(page);
  const set = (/** @type {string} */ what, /** @type {object} */ values) => edit(page, what, (shoot) =>
    void (shoot.trouble = { link: '', camera: 'stopped', events: [], ...shoot.trouble, ...values }));
  /** @type {string[]} */
  const labels = page.view.links.map((/** @type {any} */ link) => link.label);
  // Another link is another search.
  const choose = (/** @type {string} */ label) => label !== now?.link && set(`Trouble with ${label}`, { link: label, events: [] });
  return h('div', { class: 'stack' },
    labels.length <= 12 ? h('div', { class: 'choices', role: 'group', 'aria-label': 'Which link' }, labels.map((label, at) =>
      h('button', { type: 'button', id: `trouble-link-${at}`, 'aria-pressed': String(now?.link === label), class: now?.link === label ? 'main' : null, onclick: () => choose(label) }, label)))
      : h('div', { class: 'field' }, h('label', { for: 'trouble-link' }, 'Which link'),
        h('select', { id: 'trouble-link', value: now?.link ?? '', onchange: (/** @type {any} */ event) => choose(event.target.value) },
          ['', ...labels].map((label) => h('option', { value: label, selected: label === (now?.link ?? '') }, label)))),
    h('label', { class: 'tick', for: 'trouble-rolling' },
      h('input', { type: 'checkbox', id: 'trouble-rolling', checked: now?.camera === 'rolling',
        onchange: (/** @type {any} */ event) => set('Changed whether a take is running', { camera: event.target.checked ? 'rolling' : 'stopped' }) }),
      h('span', null, 'A take is running: ask only what it does not hear')));
}

/** @param {Page} page @param {TroubleView['report']['ask']} ask @param {string} heading */
const question = (page, ask, heading) => ask && h('div', { class: 'step', id: 'trouble-ask' },
  h('h3', null, heading),
  h('p', { class: 'answer', role: 'status' }, ask.words),
  h('p', { class: 'quiet' }, `About ${ask.seconds} s, ${PLACES[ask.place]}; ${TOUCHES[ask.touch]}.`),
  ask.caution && h('p', { class: 'caution' }, ask.caution),
  h('div', { class: 'choices wide-choices' }, [['yes', 'Yes'], ['no', 'No'], ['unsure', 'Don’t know']].map(([answer, words]) =>
    h('button', { type: 'button', id: `trouble-${answer}`, onclick: () => tap(page, `${words} to: ${ask.words}`, { checked: { check: ask.check, answer } }) }, words))));

/** @param {Page} page @param {TroubleView} view @param {number} at */
function remedy(page, view, at) {
  const one = view.report.remedies[at];
  const [to, name] = TOOLS[one.tool];
  const link = page.view.links.findIndex((/** @type {any} */ seen) => seen.label === session(page)?.link);
  const tried = (/** @type {string} */ outcome, /** @type {string} */ words) => h('button', { type: 'button', id: `trouble-${outcome}-${at}`,
    onclick: () => tap(page, words, { tried: { cause: one.cause, outcome } }) }, words);
  return [
    h('p', null, one.advice),
    one.tool === 'repair' && view.refused.length > 0 && h('ul', { class: 'plain-list' }, view.refused.map((words) => h('li', null, `Spare ${words}`))),
    one.caution && h('p', { class: 'caution' }, one.caution),
    h('div', { class: 'choices' },
      one.tool === 'repair' && view.spare_hz && link >= 0 && h('button', { type: 'button', class: 'main', id: `trouble-move-${at}`,
        onclick: () => move(page, link, view.spare_hz ?? 0) }, `Move ${session(page).link} to ${formatFrequency(view.spare_hz)}`),
      document.getElementById(to) && h('a', { class: 'button', href: `#${to}` }, `Go to ${name}`)),
    h('div', { class: 'choices', role: 'group', 'aria-label': 'After that' }, tried('cured', 'Cured'), tried('changed', 'Now it is something else'), tried('same', 'The same as before')),
  ];
}

/** @param {Page} page @param {TroubleView} view */
function causes(page, view) {
  const { remedies, standing: rows, step } = view.report;
  const mends = step === 'mend' || step === 'try-first';
  return h('div', { class: 'stack', id: 'trouble-causes' },
    h('h3', null, 'Three causes, in this order'),
    h('ol', { class: 'rows' }, remedies.map((one, at) => {
      const row = rows.find((other) => other.cause === one.cause);
      // The first is open once it is to be mended.
      return h('li', { id: `trouble-cause-${at}` }, h('details', { id: `trouble-${one.cause}-fold`, open: mends && at === 0 },
        h('summary', null, h('span', { class: 'grow' }, `${row?.words.charAt(0).toUpperCase()}${row?.words.slice(1)}`, h('small', null, row?.word))),
        h('div', { class: 'inside' }, remedy(page, view, at))));
    })));
}

/** @param {Page} page @param {TroubleView} view */
function said(page, view) {
  const events = session(page)?.events ?? [];
  return events.length > 0 && h('div', { class: 'stack', id: 'trouble-said' },
    h('h3', null, 'So far'),
    h('ul', { class: 'rows' }, view.report.said.map((words, at) => {
      const check = events[at]?.checked?.check;
      return h('li', { class: 'row' }, h('span', { class: 'grow' }, words),
        check && h('button', { type: 'button', class: 'plain', id: `trouble-back-${at}`, 'aria-label': `Take back: ${words}`,
          onclick: () => edit(page, 'Took an answer back', (shoot) => void (shoot.trouble = troubleTakeBack(shoot.trouble, check))) }, 'Take back'));
    })),
    h('div', { class: 'choices' }, h('button', { type: 'button', class: 'away', id: 'trouble-anew',
      onclick: () => edit(page, 'Removed what was said of the trouble', (shoot) => void delete shoot.trouble) }, 'Begin anew')));
}

/** @param {Page} page @param {TroubleView} view */
function notice(page, view) {
  const events = session(page)?.events ?? [];
  const known = new Set(events.map((/** @type {any} */ one) => one.noticed).filter(Boolean));
  const list = h('div', { class: 'symptoms' }, symptoms().filter(([symptom]) => view.report.step === 'notice' || !known.has(symptom)).map(([symptom, words]) =>
    h('button', { type: 'button', id: `trouble-${symptom}`, onclick: () => tap(page, words, { noticed: symptom }) }, words)));
  if (view.report.step === 'notice') return list;
  return h('details', { id: 'trouble-more' }, h('summary', null, view.report.step === 'prove' ? 'Something else is wrong' : 'There is something else as well'), h('div', { class: 'inside' }, list));
}

/** @param {Element} where @param {Page} page */
export function showTrouble(where, page) {
  if (page.view.links.length === 0) return show(where, h('p', { class: 'answer' }, 'No links yet. Add them under Carriers, then come here when something sounds wrong.'));
  const chosen = page.view.links.some((/** @type {any} */ link) => link.label === session(page)?.link);
  const view = chosen ? look(page) : null;
  const report = view?.report;
  return show(where,
    h('p', { class: 'answer', id: 'trouble-answer' }, !chosen ? 'Something sounds wrong? Say which link it is.'
      : report ? (report.step === 'ask' ? `First so far: ${report.standing[0].words} (${report.standing[0].word}).` : report.answer) : standing.error || 'Looking at what this shoot knows.'),
    refusal && h('p', { class: 'wrong', role: 'alert' }, refusal),
    head(page),
    report?.contradiction && h('p', { class: 'wrong', id: 'trouble-contradiction' }, report.contradiction),
    view && report?.step === 'notice' && notice(page, view),
    view && report && question(page, report.ask, 'Next check'),
    view && report?.at_the_pause && h('p', { id: 'trouble-pause' }, `At the next pause: ${report.at_the_pause.words}`),
    view && report && report.step !== 'notice' && report.step !== 'prove' && causes(page, view),
    report && report.clues.length > 0 && h('div', { class: 'lines', id: 'trouble-clues' }, h('h3', null, 'What this shoot knows'), h('ul', { class: 'plain-list' }, report.clues.map((words) => h('li', null, words)))),
    view && said(page, view),
    view && report && report.step !== 'notice' && notice(page, view));
}
