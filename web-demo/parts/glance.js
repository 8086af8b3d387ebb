// @ts-check
// Can I roll? One line each, and each leads to where it is mended. Never "ready" while something was not looked at.

import { h, plural, show } from './dom.js';
import { age, old } from './sweep.js';

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
  return list;
}

/** The first line. @param {Page} page */
export function verdict(page) {
  const things = missing(page);
  const struck = [...new Set(page.hits.map((hit) => hit.victim))];
  const stop = struck.length > 0;
  const head = stop ? `Stop: ${struck.join(', ')} ${struck.length === 1 ? 'is' : 'are'} hit`
    : things.length > 0 ? `Not yet: ${plural(things.length, 'thing')}` : 'Planned, not proved';
  return { stop, things, struck, head };
}

/** @param {Element} where @param {Page} page */
export function showGlance(where, page) {
  const { stop, things, head } = verdict(page);
  const { store, view, air, hits } = page;
  const report = page.report();
  const placed = page.carriers().filter(Boolean).length;
  const line = (/** @type {string} */ to, /** @type {string} */ mark, /** @type {string} */ text) =>
    h('li', null, h('a', { href: `#${to}` }, h('span', { class: 'tick-mark', 'aria-hidden': 'true' }, mark), h('span', null, text)));
  const known = new Set(things.map((thing) => thing.to));
  show(where,
    h('p', { class: stop ? 'verdict stop-text' : 'verdict', id: 'verdict' }, head),
    h('ul', { class: 'glance' },
      stop && line('carriers', '×', hits[0].text),
      things.map((thing) => line(thing.to, '!', thing.text)),
      !known.has('place') && line('place', '✓', `Place: ${plural(view.permits.length, 'permit')} entered, ${plural(view.multiplexes.length, 'multiplex', 'multiplexes')}, ${plural(view.foreign.length, 'foreign carrier')}.`),
      !known.has('sweep') && line('sweep', air.reading ? '○' : '✓', air.reading ? 'Sweep: being read.' : `Sweep: read ${age(store.here.sweeps)}.`),
      !known.has('carriers') && report && line('carriers', '○',
        `Carriers: ${placed === view.links.length ? `all ${plural(placed, 'link')}` : `${placed} of ${plural(view.links.length, 'link')}`} planned, not yet proved on air.`)));
}
