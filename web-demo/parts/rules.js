// @ts-check
// The rules of the plan, each with the one line that says what it does.

import { h } from './dom.js';
import { editForm } from './fields.js';

/** @typedef {import('../app.js').Page} Page */
/** @typedef {import('./fields.js').Field} Field */

/** The kinds of products, as the report names them, with what each is. @type {[string, string, string][]} */
export const KINDS = [
  ['two_transmitter_3_hz', '2A−B', 'two transmitters, third order'],
  ['three_transmitter_3_hz', 'A+B−C', 'three transmitters, third order'],
  ['two_transmitter_5_hz', '3A−2B', 'two transmitters, fifth order'],
  ['three_transmitter_5_hz', '2A+B−2C, 3A−B−C', 'three transmitters, fifth order'],
  ['two_transmitter_7_hz', '4A−3B', 'two transmitters, seventh order'],
];

/** @type {Field[]} */
const FIELDS = [
  { key: 'spacing_hz', label: 'Spacing', kind: 'khz', hint: 'No two carriers are nearer than this, whoever they belong to.' },
  ...KINDS.map(([key, sum, what]) => /** @type {Field} */ ({
    key, label: `Guard of ${sum}`, kind: 'khz', optional: true,
    hint: `A product of ${what} this near to a carrier, or nearer, is a hit. Empty: not looked at.`,
  })),
  { key: 'spares', label: 'Spares for each link', kind: 'amount', most: 4, hint: 'Carriers to fall back on when somebody comes up on one of yours.' },
  { key: 'unheard', label: 'Spectrum that was not swept', kind: 'choice', options: [['avoid', 'avoid it'], ['allow', 'use it, nothing promised']], hint: 'Not heard is not free.' },
  { key: 'busy_over_floor_db', label: 'Busy from this many dB over the floor', kind: 'amount', most: 60, hint: 'Lower finds more that is on the air, and takes noise for it.' },
];

/** @param {Page} page */
export function rulesFold(page) {
  const { store, view } = page;
  return h('details', { id: 'rules' },
    h('summary', null, 'Rules of the plan'),
    h('div', { class: 'inside' }, editForm({
      store, id: 'rule', fields: FIELDS, item: view.rules, render: page.render,
      apply: (key, value) => page.edit('Changed the rules', (shoot) => void (shoot.rules = { ...view.rules, ...shoot.rules, [key]: value })),
    })));
}
