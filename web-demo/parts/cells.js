// @ts-check
// Cells: what is in each device, how long the day is, when to change and what to bring.

import { cells, formatClock, usualSupply } from '../pkg/spurless_wasm.js';
import { h, plural } from './dom.js';
import { minutes, note } from './day.js';
import { addForm, editForm, listEditor } from './fields.js';

/** @typedef {import('../app.js').Page} Page */
/** @typedef {import('./fields.js').Field} Field */
/** @typedef {import('../pkg/spurless_wasm.js').CellsView} CellsView */

/** @type {Field[]} */
const SPAN = [
  { key: 'from_min', label: 'The day begins', kind: 'clock' },
  { key: 'to_min', label: 'It ends', kind: 'clock' },
];
/** @type {Field[]} */
const TAKE = [{ key: 'from_min', label: 'From', kind: 'clock' }, { key: 'to_min', label: 'To', kind: 'clock' }];
/** @type {[string, string][]} */
const KINDS = [['alkaline', 'Alkaline, not to be charged'], ['nickel-metal-hydride', 'Nickel-metal hydride, rechargeable'],
  ['lithium-iron', 'Lithium iron, not to be charged'], ['lithium-ion', 'Lithium-ion pack, rechargeable']];
/** @type {Record<string, [string, string, string]>} how the load is said: its words, its unit, its field */
const LOADS = { current: ['its current', 'mA', 'milliamps'], power: ['its power', 'mW', 'milliwatts'], tried: ['how long a new set lasted, warm', 'min', 'minutes'] };

/** What a file may leave out is as usual. @param {any} one */
const supplyOf = (one) => ({ ...usualSupply(), ...one.supply });

/** All that a device's cells are, in one row of fields. @param {any} one */
function flat(one) {
  const supply = supplyOf(one);
  const [said] = Object.keys(supply.load);
  return { ...supply, since_min: one.since_min ?? null, left_min: one.left_min ?? null, said, load: supply.load[said][LOADS[said][2]] };
}

/** @param {string} link @param {string | null | undefined} transmitter */
const named = (link, transmitter) => `${link}, ${transmitter ?? 'receiver'}`;

/** @param {Page} page @returns {[string, string][]} */
const devices = (page) => page.view.links.flatMap((/** @type {any} */ link) =>
  [...link.transmitters.map((/** @type {any} */ one) => one.label), null].map((one) => [JSON.stringify([link.label, one]), named(link.label, one)]));

/** @param {any} item @returns {Field[]} */
const fields = (item) => [
  { key: 'kind', label: 'Cells', kind: 'choice', options: KINDS },
  { key: 'in_series', label: 'One after the other', kind: 'amount', most: 16 },
  { key: 'in_parallel', label: 'Rows side by side', kind: 'amount', most: 16 },
  { key: 'capacity_mah', label: 'Printed on one cell', kind: 'number', unit: 'mAh', optional: true, hint: 'Empty: what is usual for the kind.' },
  { key: 'health_percent', label: 'Left of that by age', kind: 'number', unit: '%', hint: '100 when new; about 80 for a rechargeable after a year of weekly use.' },
  { key: 'celsius', label: 'How cold they get', kind: 'number', unit: '°C' },
  { key: 'said', label: 'What the device takes is known by', kind: 'choice', options: Object.entries(LOADS).map(([key, [words]]) => [key, words]) },
  { key: 'load', label: 'So much', kind: 'number', unit: LOADS[item.said][1] },
  { key: 'since_min', label: 'The set that is in it went in at', kind: 'clock', optional: true, hint: 'Empty: a fresh set goes in when the day begins.' },
  { key: 'left_min', label: 'It still lasted then', kind: 'number', unit: 'min', optional: true, hint: 'In the cold of this place. Empty: it was fresh.' },
];

/** One field of one device. @param {any} one @param {string} key @param {any} value */
function put(one, key, value) {
  const { said, load } = flat(one);
  one.supply = supplyOf(one);
  if (key === 'since_min' || key === 'left_min') one[key] = value;
  else if (key === 'said') one.supply.load = { [value]: { [LOADS[value][2]]: load, ...(value === 'power' ? { efficiency_percent: 85 } : {}) } };
  else if (key === 'load') one.supply.load[said][LOADS[said][2]] = value;
  else one.supply[key] = value;
  // How long it lasted belongs to when it went in.
  if (key === 'since_min' && value === null) one.left_min = null;
}

/** @param {Page} page @returns {CellsView[]} */
export const cellsOf = (page) => (page.store.here.shoot.cells?.length ? cells(page.json()) : []);

/** The next change, or the last one that is past. @param {Page} page @returns {{ text: string, due: boolean } | null} */
export function nextChange(page) {
  const now = minutes();
  const all = cellsOf(page).flatMap((one) => one.changes.map(([at]) => ({ at, who: named(one.link, one.transmitter) }))).sort((a, b) => a.at - b.at);
  const next = all.find((one) => one.at >= now);
  if (next) return { text: `Next cells: ${next.who}, at ${formatClock(next.at)}.`, due: false };
  const last = all.at(-1);
  return last ? { text: `Cells of ${last.who} were due at ${formatClock(last.at)}.`, due: true } : null;
}

/** @param {Page} page @param {(day: any, shoot: any) => void} change @param {string} what */
const editDay = (page, what, change) => page.edit(what, (shoot) => change((shoot.day ??= {}), shoot));

/** @param {Page} page */
function dayFields(page) {
  const { store } = page;
  const { day } = store.here.shoot;
  if (!day) {
    return addForm({ store, id: 'day', fields: SPAN, blank: { from_min: minutes(), to_min: null }, label: 'Set the day', render: page.render,
      add: (values) => editDay(page, 'Set the day', (one) => void Object.assign(one, values)) });
  }
  const takes = day.takes ?? [];
  const byTime = (/** @type {any} */ one, /** @type {any} */ other) => one.from_min - other.from_min;
  return h('div', { class: 'stack' },
    h('div', { class: 'two' }, editForm({ store, id: 'day', fields: SPAN, item: day, render: page.render,
      apply: (key, value) => editDay(page, 'Changed the day', (one) => void (one[key] = value)) })),
    h('p', { class: 'hint' }, 'After midnight go on counting: 25:00 is one o’clock.'),
    h('h4', null, 'Takes: nobody may touch a transmitter'),
    listEditor({
      store, id: 'day-take', render: page.render, items: takes, fields: () => TAKE, adding: TAKE, blank: { from_min: null, to_min: null },
      addLabel: 'Add a take', one: 'this take', name: () => 'this take',
      row: (item) => [h('span', { class: 'grow figures' }, `${formatClock(item.from_min)} to ${formatClock(item.to_min)}`)],
      apply: (at, key, value) => editDay(page, 'Changed a take', (one) => void (one.takes[at][key] = value)),
      add: (values) => editDay(page, 'Added a take', (one) => void (one.takes = [...(one.takes ?? []), values].sort(byTime))),
      remove: (at) => editDay(page, 'Removed a take', (one) => void one.takes.splice(at, 1)),
    }));
}

/** @param {Page} page @param {CellsView} seen @param {number} at */
function opened(page, seen, at) {
  return [
    h('p', { class: 'answer' }, words(seen)),
    seen.run_min !== null && h('p', null, `A fresh set is used for ${Math.floor(seen.run_min / 60)} h ${seen.run_min % 60} min in that cold.`, seen.bring !== null && ` Bring ${plural(seen.bring, 'cell')}.`),
    seen.too_cold && h('p', { class: 'wrong' }, 'Colder than the figures go: nothing is promised.'),
    h('div', { class: 'choices' }, h('button', { type: 'button', id: `cells-${at}-fresh`, onclick: () => page.edit(`Fresh cells in ${named(seen.link, seen.transmitter)}`, (shoot) => {
      Object.assign(shoot.cells[at], { since_min: minutes(), left_min: null });
      note(shoot, `fresh cells in ${named(seen.link, seen.transmitter)}`);
    }) }, 'Fresh cells went in now')),
    ...seen.cares.map((care) => h('p', { class: 'caution' }, care)),
  ];
}

/** @param {CellsView} seen */
const words = ({ answer }) => `${answer.charAt(0).toUpperCase()}${answer.slice(1)}.`;

/** @param {Page} page */
export function cellsFold(page) {
  const { store } = page;
  const { shoot } = store.here;
  const views = cellsOf(page);
  const first = views.flatMap((one) => one.changes.map(([at]) => ({ at, one }))).sort((a, b) => a.at - b.at)[0];
  const answer = views.length === 0 ? 'Nothing is known of your cells. Say what is in each device, and from when to when the day runs.'
    : !shoot.day ? 'Say from when to when the day runs; then you are told when to change.'
      : first ? `First, ${named(first.one.link, first.one.transmitter)}: ${first.one.answer}.` : `${plural(views.length, 'device')}: no change is needed.`;
  const adding = /** @type {Field[]} */ ([{ key: 'device', label: 'Device', kind: 'choice', options: devices(page) }, ...fields({ said: 'current' }).slice(0, 2)]);
  return h('div', { class: 'stack', id: 'cells' },
    h('h3', null, 'Cells'),
    h('p', { class: 'answer', id: 'cells-answer' }, answer),
    dayFields(page),
    page.view.links.length > 0 && listEditor({
      store, id: 'cells', render: page.render, items: (shoot.cells ?? []).map(flat), fields, adding,
      blank: { ...flat({}), device: devices(page)[0]?.[0] }, addLabel: 'Add the cells of a device', one: 'these cells', name: () => 'these cells',
      row: (_, at) => [h('span', { class: 'grow' }, named(views[at].link, views[at].transmitter), h('small', null, words(views[at])))],
      more: (_, at) => opened(page, views[at], at),
      apply: (at, key, value) => page.edit('Changed cells', (changed) => put(changed.cells[at], key, value)),
      add: ({ device, kind, in_series }) => page.edit('Added cells', (changed) => {
        const [link, transmitter] = JSON.parse(device);
        (changed.cells ??= []).push({ link, transmitter, supply: { kind, in_series } });
      }),
      remove: (at) => page.edit('Removed cells', (changed) => void changed.cells.splice(at, 1)),
    }));
}
