// @ts-check
// The links: what each end can tune, its carrier in figures that can be read at arm's length, its spares.

import { formatFrequency } from '../pkg/spurless_wasm.js';
import { count, h, plural } from './dom.js';
import { listEditor } from './fields.js';
import { dropLink, dropTransmitter, renameLink, renameTransmitter } from './kept.js';

/** @typedef {import('../app.js').Page} Page */
/** @typedef {import('./fields.js').Field} Field */

/** @type {Field[]} */
const WINDOW = [
  { key: 'low_hz', label: 'Lowest carrier', kind: 'mhz' },
  { key: 'high_hz', label: 'Highest carrier', kind: 'mhz' },
  { key: 'step_hz', label: 'Step', kind: 'khz' },
];
/** @type {Field[]} */
const LINK = [
  { key: 'label', label: 'Name', kind: 'text', most: 32 },
  { key: 'note', label: 'Who wears it, where it goes', kind: 'text', most: 96, optional: true },
];
/** @type {Field[]} */
const LINK_MORE = [
  { key: 'carrier_hz', label: 'On this carrier now', kind: 'mhz', optional: true, hint: 'Empty if it may be set to anything.' },
  { key: 'fixed', label: 'Keep it there', kind: 'tick', hint: 'The plan then leaves it alone.' },
  { key: 'spares', label: 'Spare carriers', kind: 'amount', most: 4, hint: 'Its own number of spares, whatever the rules say.' },
  { key: 'bandwidth_hz', label: 'Width of its carrier', kind: 'khz' },
];
/** @type {Field[]} */
const TRANSMITTER = [
  { key: 'label', label: 'Name', kind: 'text', most: 32 },
  { key: 'kind', label: 'Kind', kind: 'choice', options: [['body-worn', 'body-worn pack'], ['plug-on', 'plug-on'], ['handheld', 'handheld']] },
];

/** The figures, parted so that each half reads at a glance. @param {number} hz */
export const figures = (hz) => {
  const [whole, rest] = formatFrequency(hz).split('.');
  return [whole, h('span', { class: 'point' }, '.'), rest ?? ''].filter(Boolean);
};

const windowWords = (/** @type {any} */ one) =>
  `${formatFrequency(one.low_hz)} to ${formatFrequency(one.high_hz)} MHz, every ${one.step_hz / 1000} kHz`;

/** A list inside a link. @param {Page} page @param {number} at which link @param {(link: any) => any[]} list @param {any} given */
function inner(page, at, list, given) {
  const link = page.store.here.shoot.links[at];
  const change = (/** @type {string} */ what, /** @type {(items: any[]) => void} */ act) =>
    page.edit(`${what} of ${link.label}`, (shoot) => act(list(shoot.links[at])));
  return listEditor({
    store: page.store, render: page.render, items: list(structuredClone(link)), fields: () => given.adding, ...given,
    apply: (/** @type {number} */ item, /** @type {string} */ key, /** @type {any} */ value) => change(`Changed ${given.one}`, (items) => void (items[item][key] = value)),
    add: (/** @type {any} */ values) => change(`Added ${given.one}`, (items) => void items.push(values)),
    remove: (/** @type {number} */ item) => change(`Removed ${given.one}`, (items) => void items.splice(item, 1)),
    ...given.instead,
  });
}

/** @param {Page} page @param {number} at */
const windowList = (page, at, id = `link-${at}-window`, list = (/** @type {any} */ link) => link.windows) => inner(page, at, list, {
  id, adding: WINDOW, blank: { low_hz: null, high_hz: null, step_hz: 25_000 }, addLabel: 'Add a tuning window', one: 'a tuning window',
  name: () => 'this window', row: (/** @type {any} */ item) => [h('span', { class: 'grow' }, windowWords(item))],
});

/** @param {Page} page @param {number} at */
const transmitterList = (page, at) => inner(page, at, (link) => (link.transmitters ??= []), {
  id: `link-${at}-transmitter`, adding: TRANSMITTER, blank: { label: '', kind: 'body-worn' }, addLabel: 'Add a transmitter', one: 'a transmitter',
  name: (/** @type {any} */ item) => item.label,
  instead: {
    apply: (/** @type {number} */ which, /** @type {string} */ key, /** @type {any} */ value) => page.edit('Changed a transmitter', (shoot) => {
      if (key === 'label') renameTransmitter(shoot, at, which, value);
      shoot.links[at].transmitters[which][key] = value;
    }),
    remove: (/** @type {number} */ which) => page.edit('Removed a transmitter', (shoot) => dropTransmitter(shoot, at, which)),
  },
  row: (/** @type {any} */ item) => [h('span', { class: 'grow' }, item.label, h('small', null, item.windows?.length ? item.windows.map(windowWords).join('; ') : 'tunes what the receiver tunes'))],
  more: (/** @type {any} */ _, /** @type {number} */ which) => [
    h('p', { class: 'hint' }, 'Add a window only if it tunes otherwise than its receiver.'),
    windowList(page, at, `link-${at}-transmitter-${which}-window`, (link) => (link.transmitters[which].windows ??= [])),
  ],
});

/** What the two ends can do together. @param {any} link of the view */
function meeting(link) {
  if (link.carriers === 0) return 'Its two ends have no carrier in common: this link can never work.';
  const span = `${formatFrequency(link.low_hz)} to ${formatFrequency(link.high_hz)} MHz`;
  if (link.carriers === link.receiver_carriers) return `Tunes ${plural(link.carriers, 'carrier')}, ${span}.`;
  return `Its two ends meet on only ${count(link.carriers)} of the ${count(link.receiver_carriers)} carriers that its receiver tunes, ${span}.`;
}

/** @param {Page} page @param {number} at */
function opened(page, at) {
  const { store, view } = page;
  const link = view.links[at];
  const row = rowOf(page, at);
  return [
    row?.carrier_hz
      ? h('p', { class: 'dial' }, h('span', { class: 'digits' }, figures(row.carrier_hz)), h('span', { class: 'dial-unit' }, ' MHz'))
      : h('p', { class: 'answer' }, 'No carrier.'),
    page.stale() && row?.carrier_hz && h('p', { class: 'caution' }, 'From the plan before your last change.'),
    row?.spares.length > 0 && h('p', null, 'Spares, in this order: ', h('strong', { class: 'figures' }, row.spares.map(formatFrequency).join(', ')), ' MHz'),
    link.transmitters.length > 1 && h('p', { class: 'caution' }, `${plural(link.transmitters.length, 'transmitter')} may feed this receiver. Only one may be live.`),
    h('p', { class: link.carriers === 0 ? 'wrong' : 'quiet' }, meeting(link)),
    h('h4', null, 'What the receiver tunes'),
    windowList(page, at),
    h('h4', null, 'Transmitters'),
    transmitterList(page, at),
    h('h4', null, 'About this link'),
    store.here.shoot.links[at].carrier_hz !== null && store.here.shoot.links[at].fixed && h('p', { class: 'quiet' }, 'Kept where it is.'),
  ].filter(Boolean);
}

/** @param {Page} page @param {number} at */
function rowOf(page, at) {
  const report = page.report();
  if (!report) return null;
  const { label } = page.view.links[at];
  return page.stale() ? report.carriers.find((/** @type {any} */ one) => one.label === label) ?? null : report.carriers[at] ?? null;
}

/** @param {any} shoot */
function blankLink(shoot) {
  const last = shoot.links.at(-1)?.windows[0];
  const used = new Set(shoot.links.map((/** @type {any} */ link) => link.label));
  let number = shoot.links.length + 1;
  while (used.has(`L${number}`)) number += 1;
  return { label: `L${number}`, note: '', low_hz: last?.low_hz ?? null, high_hz: last?.high_hz ?? null, step_hz: last?.step_hz ?? 25_000 };
}

/** @param {Page} page */
export function linkList(page) {
  const { store, view } = page;
  const { shoot } = store.here;
  return listEditor({
    store, id: 'link', render: page.render, items: shoot.links.map((/** @type {any} */ link, /** @type {number} */ at) => ({
      ...link, spares: link.spares ?? view.rules.spares, bandwidth_hz: link.bandwidth_hz ?? view.links[at]?.bandwidth_hz ?? null,
    })),
    one: 'this link', name: (link) => link.label, addLabel: 'Add a link',
    blank: blankLink(shoot), adding: [...LINK, ...WINDOW],
    fields: () => [...LINK, ...LINK_MORE],
    row: (link, at) => {
      const row = rowOf(page, at);
      const seen = view.links[at];
      return [
        h('span', { class: 'link-row' },
          h('span', { class: 'lead' }, link.label),
          h('span', { class: row?.carrier_hz ? 'carrier' : 'carrier none' }, row?.carrier_hz ? figures(row.carrier_hz) : 'none',
            row?.carrier_hz && h('span', { class: 'unseen' }, ' MHz')),
          link.note && h('small', null, link.note),
          row?.spares.length > 0 && h('small', null, `spare ${row.spares.map(formatFrequency).join(', ')}`),
          seen && seen.carriers !== seen.receiver_carriers && h('small', null, `its ends meet on only ${count(seen.carriers)} of ${count(seen.receiver_carriers)}`),
          link.fixed && h('small', null, 'kept where it is')),
      ];
    },
    more: (_, at) => opened(page, at),
    apply: (at, key, value) => page.edit(`Changed ${shoot.links[at].label}`, (changed) => {
      if (key === 'label') renameLink(changed, at, value);
      changed.links[at][key] = value;
      // Without a carrier there is nothing to keep.
      if (key === 'carrier_hz' && value === null) changed.links[at].fixed = false;
    }),
    add: ({ label, note, low_hz, high_hz, step_hz }) => page.edit(`Added ${label}`, (changed) =>
      void changed.links.push({ label, note, windows: [{ low_hz, high_hz, step_hz }], transmitters: [] })),
    remove: (at) => page.edit(`Removed ${shoot.links[at].label}`, (changed) => dropLink(changed, at)),
  });
}
