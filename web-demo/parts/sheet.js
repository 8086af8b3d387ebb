// @ts-check
// Sheet: what somebody else needs to set every link from paper alone.

import { sheet, sheetCsv } from '../pkg/spurless_wasm.js';
import { h, show } from './dom.js';
import { pairingWord } from './pair.js';
import { fileName, saveAs } from './files-out.js';

/** @typedef {import('../app.js').Page} Page */

/** The shoot with the planned carriers as where its links are. @param {Page} page */
function saved(page) {
  const { shoot } = page.store.here;
  const carriers = page.carriers();
  return JSON.stringify({ ...shoot, links: shoot.links.map((/** @type {any} */ link, /** @type {number} */ at) =>
    ({ ...link, carrier_hz: carriers[at] || (link.carrier_hz ?? null) })) }, null, 2);
}

/** @param {any} rows @param {any} page */
function table(rows, page) {
  return h('table', { class: 'run-sheet', id: 'run-sheet' },
    h('caption', { class: 'unseen' }, 'Carriers of each link'),
    h('thead', null, h('tr', null, ['Link', 'Carrier, MHz', 'Spares'].map((words) => h('th', { scope: 'col' }, words)))),
    h('tbody', null, rows.map((/** @type {any} */ row) => h('tr', null,
      h('th', { scope: 'row' }, row.link, h('small', null, row.note), row.transmitters.length > 0 && h('small', null, row.transmitters.join(' · ')),
        [...row.live, ...row.levels, ...row.cells].length > 0 && h('small', { class: 'row-day' }, [...row.live, ...row.levels, ...row.cells].join(' · ')),
        row.caution && h('small', { class: 'row-caution' }, row.caution)),
      h('td', { class: 'carrier' }, row.carrier || 'none'),
      h('td', { class: 'figures' }, row.spares.map((/** @type {string} */ spare) => h('span', { class: 'spare' }, spare)))))));
}

/** @param {Element} where @param {Page} page */
export function showSheet(where, page) {
  const { store, view } = page;
  const report = page.report();
  const json = page.json();
  const save = h('button', { type: 'button', id: 'save-shoot', onclick: () => saveAs(fileName(view.name, '.json'), saved(page), 'application/json') }, 'Save the shoot');
  if (!report) {
    return show(where,
      h('p', { class: 'answer' }, 'Nothing to print before a plan is made.'),
      h('div', { class: 'choices' }, save));
  }
  const written = JSON.stringify(report);
  const content = sheet(json, written);
  const proved = pairingWord(page).text;
  const made = new Date(store.here.plan?.at ?? 0).toLocaleString([], { dateStyle: 'medium', timeStyle: 'short' });
  show(where,
    h('p', { class: 'answer screen' }, page.stale() ? 'This sheet is from before your last change. Plan again before you print it.' : 'One side of A4. Anybody can set the links from it.'),
    h('div', { class: 'choices screen' },
      h('button', { type: 'button', class: 'main', id: 'print', onclick: () => print() }, 'Print'),
      h('button', { type: 'button', id: 'save-csv', onclick: () => saveAs(fileName(view.name, '.csv'), sheetCsv(json, written), 'text/csv') }, 'Save as CSV'),
      save),
    h('div', { class: 'paper', id: 'paper' },
      h('header', null,
        h('p', { class: 'paper-title' }, content.title || 'Shoot'),
        content.made_for && h('p', { class: 'quiet' }, content.made_for),
        page.stale() && h('p', { class: 'stop-text' }, 'Out of date: something changed after this plan.'),
        h('p', { class: 'quiet figures' }, `Planned ${made}. ${proved ? `Not yet proved on air: ${proved}` : 'Proved on air.'}`)),
      table(content.rows, page),
      content.foreign.length > 0 && h('div', null,
        h('h3', null, 'Foreign carriers'),
        h('ul', { class: 'foreign-list' }, content.foreign.map((/** @type {any} */ one) =>
          h('li', null, h('span', null, one.label), h('span', { class: 'figures' }, `${one.carrier}\u00a0MHz`))))),
      content.log.length > 0 && h('div', { class: 'log' },
        h('h3', null, 'What happened'),
        h('ul', { class: 'plain-list' }, content.log.map((/** @type {string} */ words) => h('li', null, words)))),
      content.lines.map((/** @type {string} */ words) => h('p', null, words)),
      content.cautions.map((/** @type {string} */ words) => h('p', { class: 'caution' }, words))));
}
