// @ts-check
// Carriers: the plan, each link's number, why not here, and what to loosen.

import { formatOffset } from '../pkg/spurless_wasm.js';
import { count, h, plural, show } from './dom.js';
import { linkList } from './links.js';
import { pictureTable, showPicture } from './picture.js';
import { KINDS, rulesFold } from './rules.js';
import { sentence } from './frame.js';
import { whatMoves } from './standing.js';

/** @typedef {import('../app.js').Page} Page */

/** What the planner is at. @type {Record<string, string>} */
const STAGES = {
  links: 'Placing the links', spares: 'Finding spares', quieter: 'Looking for quieter carriers',
  roomier: 'Making more room', loosen: 'Trying what to loosen', done: 'Done',
};

/** @param {Page} page */
function answer(page) {
  const { view, planning } = page;
  const report = page.report();
  if (view.links.length === 0) return 'No links yet. Add each receiver with what it can tune.';
  if (planning.stop) return 'Planning.';
  if (report && page.stale()) return 'Something changed since this plan was made. Plan again.';
  if (report) return report.answer;
  return `${plural(view.links.length, 'link')}, not planned yet.`;
}

/** @param {Page} page */
function working({ planning }) {
  return h('div', { class: 'working', id: 'planning', 'data-own': true },
    h('p', { class: 'figures', id: 'planning-words' }, 'Starting.'),
    h('progress', { id: 'planning-bar', max: 1, value: 0, 'aria-label': 'Links that have a carrier' }),
    h('button', { type: 'button', id: 'stop-planning', onclick: () => planning.stop?.() }, 'Stop planning'));
}

/** How far the plan is: told often, so nothing else is drawn again. @param {any} progress */
export function showProgress(progress) {
  const [words, bar] = [document.getElementById('planning-words'), /** @type {HTMLProgressElement | null} */ (document.getElementById('planning-bar'))];
  if (!words || !bar) return;
  words.textContent = `${STAGES[progress.stage] ?? 'Planning'}: ${progress.seated} of ${progress.wanted} seated, ${count(Number(progress.nodes))} carriers tried.`;
  bar.max = progress.wanted || 1;
  bar.value = progress.seated;
}

/** @param {string} heading @param {string[]} lines @param {string} [id] */
const lines = (heading, lines, id) => lines.length > 0 && h('div', { class: 'lines', id: id ?? null },
  h('h3', null, heading), h('ul', { class: 'plain-list' }, lines.map((words) => h('li', null, sentence(words)))));

/** The distances that the plan keeps, beside what the rules ask. @param {Page} page */
function distances(page) {
  const { clearance } = page.report();
  const { rules } = page.view;
  const rows = [['carrier_hz', 'carrier to carrier', 'with one of ours', 'spacing_hz'], ...KINDS.map(([key, sum, what]) => [key, sum, what, key])];
  const shown = rows.filter(([key]) => clearance[/** @type {string} */ (key)] !== null);
  if (shown.length === 0) return null;
  return h('details', { id: 'distances' },
    h('summary', null, 'How near the nearest comes'),
    h('div', { class: 'inside wide', tabindex: '0', role: 'group', 'aria-label': 'Distances that the plan keeps' },
      h('table', null,
        h('thead', null, h('tr', null, h('th', { scope: 'col' }, 'What'), h('th', { scope: 'col', class: 'number' }, 'Nearest'), h('th', { scope: 'col', class: 'number' }, 'Rule'))),
        h('tbody', null, shown.map(([key, sum, what, rule]) => h('tr', null,
          h('th', { scope: 'row' }, sum, h('small', null, what)),
          h('td', { class: 'number' }, formatOffset(clearance[/** @type {string} */ (key)])),
          h('td', { class: 'number' }, rules[/** @type {string} */ (rule)] === null ? 'off'
            : `${key === 'carrier_hz' ? 'at least' : 'over'} ${formatOffset(rules[/** @type {string} */ (rule)])}`)))))));
}

/** @param {Element} where @param {Page} page */
export function showCarriers(where, page) {
  const { view, planning, hits } = page;
  const report = page.report();
  const failed = report && report.status !== 'complete' && !page.stale();
  show(where,
    h('p', { class: failed ? 'answer stop-text' : 'answer', id: 'plan-answer', role: 'status' }, answer(page)),
    planning.error && h('p', { class: 'wrong', role: 'alert', id: 'plan-error' }, sentence(planning.error)),
    hits.length > 0 && lines('What lands where', hits.slice(0, 6).map((hit) => hit.text), 'hits'),
    !planning.stop && whatMoves(page),
    planning.stop ? working(page) : view.links.length > 0 && h('div', { class: 'choices' },
      h('button', { type: 'button', class: 'main', id: 'plan', onclick: () => page.plan() }, report ? 'Plan again' : 'Plan carriers')),
    failed && lines('Any one of these would let every link have a carrier', report.relaxations, 'relaxations'),
    failed && lines('Not known whether these would', report.undecided),
    report && !page.stale() && lines('Worth knowing', report.warnings),
    linkList(page),
    h('p', { class: 'caution' }, view.caution),
    view.span && h('div', { id: 'picture', 'data-own': true }),
    report && !page.stale() && distances(page),
    view.span && pictureTable(page),
    rulesFold(page));
  const picture = document.getElementById('picture');
  if (picture) showPicture(picture, page);
}
