// @ts-check
// Place: what is lawful here, and who else is on the air.

import { formatFrequency } from '../pkg/spurless_wasm.js';
import { h, plural, show } from './dom.js';
import { editForm, listEditor } from './fields.js';
import { openShootButton } from './frame.js';

/** @typedef {import('../app.js').Page} Page */
/** @typedef {import('./fields.js').Field} Field */

/** How television channels are numbered, as the core names it. @type {[string, string][]} */
const TELEVISION = [['', 'Not said'], ['australia', 'Australia'], ['brazil', 'Brazil'], ['canada', 'Canada'], ['china', 'China'],
  ['europe', 'Europe, Africa, Near East'], ['japan', 'Japan'], ['united-states', 'United States']];

/** @type {Field[]} */
const STRETCH = [
  { key: 'low_hz', label: 'From', kind: 'mhz' },
  { key: 'high_hz', label: 'To', kind: 'mhz' },
];
/** @type {Field[]} */
const PERMIT = [...STRETCH, { key: 'why', label: 'On what ground', kind: 'text', most: 64, optional: true, hint: 'Licence, rule and its date, or who said so.' }];
/** @type {Field[]} */
const BLOCKED = [...STRETCH, { key: 'why', label: 'Why', kind: 'text', most: 64, optional: true }];
/** @type {Field[]} */
const FOREIGN = [
  { key: 'label', label: 'Whose', kind: 'text', most: 32 },
  { key: 'carrier_hz', label: 'Carrier', kind: 'mhz' },
  { key: 'protected', label: 'Keep our products off it', kind: 'tick', hint: 'What ours make together will not land on it.' },
];
/** @type {Field[]} */
const MULTIPLEX = [{ key: 'channel', label: 'Television channel', kind: 'text', most: 8, hint: 'Its number on the raster above, for example 28.' }];

const stretch = (/** @type {any} */ one) => h('span', { class: 'figures' }, `${formatFrequency(one.low_hz)} to ${formatFrequency(one.high_hz)}\u00a0MHz`);

/** One of the lists of a site. @param {Page} page @param {string} key @param {string} id @param {any} rest */
function siteList(page, key, id, rest) {
  const list = (/** @type {any} */ shoot) => ((shoot.site ??= {})[key] ??= []);
  const items = page.store.here.shoot.site?.[key] ?? [];
  const named = (/** @type {any} */ item) => rest.name(item) || rest.one;
  return listEditor({
    store: page.store, id, items, fields: () => rest.adding, render: page.render, ...rest,
    apply: (/** @type {number} */ at, /** @type {string} */ field, /** @type {any} */ value) =>
      page.edit(`Changed ${named(items[at])}`, (shoot) => void (list(shoot)[at][field] = value)),
    add: (/** @type {any} */ values) => page.edit(`Added ${named(values)}`, (shoot) => void list(shoot).push(values)),
    remove: (/** @type {number} */ at) => page.edit(`Removed ${named(items[at])}`, (shoot) => void list(shoot).splice(at, 1)),
  });
}

/** A list, folded, with how much is in it. @param {Page} page @param {string} key @param {string} heading @param {Node} list */
function fold(page, key, heading, list) {
  const amount = page.view[key].length;
  return h('li', { id: `${key}-row` }, h('details', { id: `${key}-fold` },
    h('summary', null, h('span', { class: 'grow strong' }, heading), h('span', { class: 'quiet' }, amount === 0 ? 'none entered' : String(amount))),
    h('div', { class: 'inside' }, list)));
}

/** @param {Page} page */
function answer({ view }) {
  const lawful = view.permits.length === 0
    ? 'What is lawful here is unknown: no permit is entered, so nothing is refused.'
    : `${plural(view.permits.length, 'permitted stretch', 'permitted stretches')}; all else is refused.`;
  const others = view.foreign.length + view.multiplexes.length === 0
    ? 'Nobody else is entered.'
    : `Kept clear of: ${plural(view.multiplexes.length, 'multiplex', 'multiplexes')}, ${plural(view.foreign.length, 'foreign carrier')}.`;
  return `${lawful} ${others}`;
}

/** @param {Element} where @param {Page} page */
export function showPlace(where, page) {
  const { store, view } = page;
  const { shoot } = store.here;
  const site = shoot.site ?? {};
  show(where,
    h('p', { class: 'answer' }, answer(page)),
    h('p', { class: 'caution' }, view.caution),
    h('div', { class: 'pair' },
      editForm({
        store, id: 'shoot', item: { name: shoot.name, television: site.television ?? '' }, render: page.render,
        fields: [
          { key: 'name', label: 'What this shoot is called', kind: 'text', most: 32, optional: true },
          { key: 'television', label: 'Television raster', kind: 'choice', options: TELEVISION },
        ],
        apply: (key, value) => page.edit(key === 'name' ? 'Changed the name' : 'Changed the television raster', (changed) => {
          if (key === 'name') changed.name = value;
          else changed.site = { ...changed.site, television: value };
        }),
      })),
    h('ul', { class: 'rows' },
      fold(page, 'permits', 'Permitted here', siteList(page, 'permits', 'permit', {
      adding: PERMIT, blank: { low_hz: null, high_hz: null, why: '' }, addLabel: 'Add a permit', one: 'a permit',
      name: (/** @type {any} */ item) => item.low_hz && `permit ${formatFrequency(item.low_hz)}`,
      row: (/** @type {any} */ item) => [h('span', { class: 'grow' }, stretch(item), item.why && h('small', null, item.why))],
    })),
      fold(page, 'multiplexes', 'Television multiplexes in use', siteList(page, 'multiplexes', 'multiplex', {
      adding: MULTIPLEX, blank: { channel: '' }, addLabel: 'Add a multiplex', one: 'a multiplex',
      name: (/** @type {any} */ item) => `channel ${item.channel}`,
      row: (/** @type {any} */ item, /** @type {number} */ at) => [
        h('span', { class: 'lead' }, item.channel),
        h('span', { class: 'grow' }, view.multiplexes[at] && stretch(view.multiplexes[at]))],
    })),
      fold(page, 'foreign', 'Foreign carriers', siteList(page, 'foreign', 'foreign', {
      adding: FOREIGN, blank: { label: '', carrier_hz: null, protected: true }, addLabel: 'Add a foreign carrier', one: 'a foreign carrier',
      name: (/** @type {any} */ item) => item.label,
      row: (/** @type {any} */ item) => [
        h('span', { class: 'grow' }, item.label, h('small', null, item.protected ? 'our products kept off' : 'our products may land on it')),
        h('span', { class: 'figures' }, `${formatFrequency(item.carrier_hz)} MHz`)],
    })),
      fold(page, 'blocked', 'Blocked stretches', siteList(page, 'blocked', 'blocked', {
      adding: BLOCKED, blank: { low_hz: null, high_hz: null, why: '' }, addLabel: 'Add a blocked stretch', one: 'a blocked stretch',
      name: (/** @type {any} */ item) => item.low_hz && `block ${formatFrequency(item.low_hz)}`,
      row: (/** @type {any} */ item) => [h('span', { class: 'grow' }, stretch(item), item.why && h('small', null, item.why))],
    })),
    ),
    h('div', { class: 'choices' }, ...openShootButton(page, 'open-shoot')));
}
