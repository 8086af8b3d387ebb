// @ts-check
// Reach: how far each link goes here, what helps most, and how long its cells last.

import { usualReach } from '../pkg/spurless_wasm.js';
import { h, show } from './dom.js';
import { cellsFold } from './cells.js';
import { Standing } from './engine.js';
import { editForm } from './fields.js';

/** @typedef {import('../app.js').Page} Page */
/** @typedef {import('./fields.js').Field} Field */
/** @typedef {import('../pkg/spurless_wasm.js').ReachView} ReachView */

/** @type {Field[]} */
const PLACE = [
  { key: 'place', label: 'Where the path runs', kind: 'choice', options: [['open', 'outdoors, level ground'], ['hall-in-view', 'a hall, in view'],
    ['hall-hidden', 'a hall, stands between'], ['office-in-view', 'a room, in view'], ['office-hidden', 'a room, walls or furniture between'],
    ['corridor-in-view', 'a corridor, in view'], ['corridor-hidden', 'a corridor, round a corner'], ['home', 'a home, through its rooms']] },
  { key: 'crowd', label: 'People between', kind: 'choice', options: [['none', 'nobody'], ['loose', 'a few, who move'], ['dense', 'shoulder to shoulder']] },
  { key: 'worn', label: 'Packs are worn', kind: 'choice', options: [['facing', 'facing the receiver'], ['behind', 'behind the body'], ['in-hand', 'in the hand'], ['free', 'on nobody']] },
  { key: 'receive_height_m', label: 'Height of the receiver', kind: 'number', unit: 'm' },
  { key: 'antennas', label: 'Antennas of each receiver', kind: 'choice', options: [['1', 'one'], ['2', 'two']] },
  { key: 'availability_percent', label: 'How sure it has to be', kind: 'choice', options: [['90', 'nine moments in ten'], ['99', '99 in a hundred'], ['99.9', '999 in a thousand'], ['99.99', '9,999 in ten thousand']] },
];
/** @type {Field[]} */
const MORE = [
  { key: 'wall', label: 'An outside wall between', kind: 'choice', options: [['none', 'none'], ['plain', 'brick, wood, plain glass'], ['insulated', 'insulated, coated glass']] },
  { key: 'floors', label: 'Floors between', kind: 'amount', most: 10 },
  { key: 'transmit_height_m', label: 'Height of the transmitter', kind: 'number', unit: 'm' },
  { key: 'power_mw', label: 'Power where a link does not say it', kind: 'number', unit: 'mW' },
  { key: 'extra_loss_db', label: 'Any other loss', kind: 'number', unit: 'dB', hint: 'A cable to the antenna, a covered antenna.' },
  { key: 'noise_figure_db', label: 'Noise that the receiver adds', kind: 'number', unit: 'dB' },
  { key: 'needed_ratio_db', label: 'Carrier over noise that it needs', kind: 'number', unit: 'dB' },
];

const standing = new Standing();

/** How far each link reaches, shortest first; null while it is not known. @param {Page} page @returns {ReachView[] | null} */
function reachOf(page) {
  const carriers = page.carriers();
  const { links, reach } = page.store.here.shoot;
  const { summary, reading } = page.air;
  standing.ask(page.engine, JSON.stringify([links, reach, carriers, summary, reading !== null]), 'reach', { shoot: page.json(), carriers }, page.render);
  return standing.answer && [...standing.answer].sort((a, b) => (a.sure_m ?? 0) - (b.sure_m ?? 0));
}

/** @param {ReachView} one */
const noise = (one) => one.noise_dbm === null ? null
  : `${one.heard ? 'The noise is what the sweep heard at this very carrier' : 'Not swept here: the noise is reckoned from warmth alone, so it may be worse'}: ${one.noise_dbm.toFixed(0)} dBm in all.`;

/** @param {ReachView} one @param {number} at its place in the shoot */
const row = (one, at) => h('li', { id: `reach-${at}-row` }, h('details', { id: `reach-${at}-fold` },
  h('summary', null, h('span', { class: 'grow' }, h('span', { class: 'lead' }, one.link), h('small', null, one.answer.split(';')[0]))),
  h('div', { class: 'inside' },
    h('p', null, one.answer),
    noise(one) && h('p', null, noise(one)),
    one.helps.length > 0 && h('div', { class: 'lines' }, h('h4', null, 'What helps, best first'), h('ul', { class: 'plain-list' }, one.helps.map((words) => h('li', null, words)))),
    h('dl', { class: 'facts' },
      fact('Antenna, a quarter of a wave', `${(one.antenna_m * 100).toFixed(1)} cm`),
      fact('Two antennas of a receiver, apart at least', `${(one.apart_m * 100).toFixed(0)} cm`),
      one.sure_m !== null && fact('Free of people half way, around the line of sight', `${one.fresnel_m.toFixed(1)} m`),
      one.fade_margin_db !== null && fact('Kept for fades', `${one.fade_margin_db.toFixed(0)} dB`)))));

/** @param {string} id @param {string} heading @param {any[]} fields */
const fold = (id, heading, fields) => h('details', { id }, h('summary', null, heading), h('div', { class: 'inside' }, fields));

/** @param {string} name @param {string} value */
const fact = (name, value) => h('div', null, h('dt', null, name), h('dd', null, value));

/** @param {Page} page @param {string} id @param {Field[]} fields */
function form(page, id, fields) {
  const usual = { ...usualReach(), ...page.store.here.shoot.reach };
  return editForm({
    store: page.store, id, fields, item: usual, render: page.render,
    apply: (key, value) => page.edit('Changed the reach of this place', (shoot) =>
      void (shoot.reach = { ...usual, ...shoot.reach, [key]: fields.find((one) => one.key === key)?.options && !Number.isNaN(Number(value)) ? Number(value) : value })),
  });
}

/** @param {Element} where @param {Page} page */
export function showReach(where, page) {
  const views = page.carriers().some(Boolean) ? reachOf(page) : [];
  const [shortest] = views ?? [];
  show(where,
    h('p', { class: 'answer', id: 'reach-answer' }, standing.error || (!views ? 'Working it out.'
      : shortest ? `${views.length > 1 ? 'The shortest is ' : ''}${shortest.link}. ${shortest.answer}` : 'No carriers yet: how far a link goes hangs on them. Plan them first.')),
    views && views.length > 0 && h('ul', { class: 'rows' }, views.map((one) => row(one, page.view.links.findIndex((/** @type {any} */ link) => link.label === one.link)))),
    fold('reach-place', 'What the place is like', form(page, 'reach', PLACE)),
    fold('reach-more', 'Walls, heights, the gear', form(page, 'reach', MORE)),
    cellsFold(page));
}
