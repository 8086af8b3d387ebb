// @ts-check
// Can I roll? One line each, and each leads to where it is mended. Never "ready" while something was not looked at.

import { h, plural, show } from './dom.js';
import { nextChange } from './cells.js';
import { pairingWord } from './pair.js';
import { age, old } from './sweep.js';
import { troubleWord } from './trouble.js';

/** @typedef {import('../app.js').Page} Page */

/** What is missing, most urgent first. @param {Page} page @returns {{ to: string, text: string }[]} */
function missing(page) {
  const { store, view, air } = page;
  const { sweeps } = store.here;
  const report = page.report();
  const list = [];
  if (view.permits.length === 0) list.push({ to: 'place', text: 'No permit entered: what is lawful here is unknown.' });
  if (sweeps.length === 0) list.push({ to: 'sweep', text: 'No sweep: nothing was heard, so nothing is known to be quiet.' });
  else if (air.error) list.push({ to: 'sweep', text: 'The sweep could not be read.' });
  else if (sweeps.some(old)) list.push({ to: 'sweep', text: `The sweep is old (${age(sweeps)}). Sweep again before you roll.` });
  if (view.links.length === 0) list.push({ to: 'carriers', text: 'No links entered.' });
  else if (!report) list.push({ to: 'carriers', text: `${plural(view.links.length, 'link')} without a carrier: not planned yet.` });
  else if (page.stale()) list.push({ to: 'carriers', text: 'Something changed since the plan was made. Plan again.' });
  else {
    const open = report.carriers.filter((/** @type {any} */ row) => !row.carrier_hz).map((/** @type {any} */ row) => row.label);
    if (open.length > 0) list.push({ to: 'carriers', text: `No carrier for ${open.join(', ')}.` });
  }
  const trouble = view.links.length > 0 && troubleWord(page);
  if (trouble) list.push({ to: 'trouble', text: trouble });
  const change = nextChange(page);
  if (change?.due) list.push({ to: 'cells', text: change.text });
  return list;
}

/** The first line. @param {Page} page */
export function verdict(page) {
  const things = missing(page);
  const struck = [...new Set(page.hits.map((hit) => hit.victim))];
  const pair = pairingWord(page);
  const stop = struck.length > 0 || pair.loud;
  const take = page.store.here.shoot.takes?.at(-1);
  const head = struck.length > 0 ? `Stop: ${struck.join(', ')} ${struck.length === 1 ? 'is' : 'are'} hit`
    : pair.loud ? 'Stop: mend the pairing'
      : things.length > 0 ? `Not yet: ${plural(things.length, 'thing')}`
        : pair.text ? 'Planned, not proved' : !take ? 'Paired, no test take yet' : take.clean ? 'Ready to roll' : 'Not yet: the last take was not clean';
  return { stop, things, struck, pair, head };
}

/** @param {Element} where @param {Page} page */
export function showGlance(where, page) {
  const { stop, things, struck, pair, head } = verdict(page);
  const change = nextChange(page);
  const { store, view, air, hits } = page;
  const report = page.report();
  const placed = page.carriers().filter(Boolean).length;
  const line = (/** @type {string} */ to, /** @type {string} */ mark, /** @type {string} */ text) =>
    h('li', null, h('a', { href: `#${to}` }, h('span', { class: 'tick-mark', 'aria-hidden': 'true' }, mark), h('span', null, text)));
  const known = new Set(things.map((thing) => thing.to));
  show(where,
    h('p', { class: stop ? 'verdict stop-text' : 'verdict', id: 'verdict' }, head),
    h('ul', { class: 'glance' },
      struck.length > 0 && line('carriers', '×', hits[0].text),
      pair.loud && line('pair', '×', pair.text),
      things.map((thing) => line(thing.to, '!', thing.text)),
      !known.has('place') && line('place', '✓', `Place: ${plural(view.permits.length, 'permit')} entered, ${plural(view.multiplexes.length, 'multiplex', 'multiplexes')}, ${plural(view.foreign.length, 'foreign carrier')}.`),
      !known.has('sweep') && line('sweep', air.reading ? '○' : '✓', air.reading ? 'Sweep: being read.' : `Sweep: read ${age(store.here.sweeps)}.`),
      !known.has('carriers') && report && line('carriers', '○',
        `Carriers: ${placed === view.links.length ? `all ${plural(placed, 'link')}` : `${placed} of ${plural(view.links.length, 'link')}`} planned.`),
      !pair.loud && placed > 0 && line('pair', pair.text ? '○' : '✓', pair.text ? `Pair: ${pair.text}` : 'Pair: one transmitter live and proved on every link.'),
      change && !change.due && line('cells', '○', change.text)));
}
