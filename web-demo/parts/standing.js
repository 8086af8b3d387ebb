// @ts-check
// What still stands when something has changed after the plan: which link has to move, where to, and who stays.

import { formatFrequency } from '../pkg/spurless_wasm.js';
import { h, plural } from './dom.js';
import { note } from './day.js';
import { Standing } from './engine.js';
import { sentence } from './frame.js';

/** @typedef {import('../app.js').Page} Page */

const standing = new Standing();

/** The plan's row of each link, as it stands. @param {Page} page @returns {any[]} */
const rows = (page) => page.view.links.map((/** @type {any} */ link, /** @type {number} */ at) => {
  const report = page.report();
  return (page.stale() ? report?.carriers.find((/** @type {any} */ one) => one.label === link.label) : report?.carriers[at]) ?? { label: link.label, carrier_hz: null, spares: [] };
});

/** The spares of a link. @param {Page} page @param {number} at @returns {number[]} */
export const sparesOf = (page, at) => rows(page)[at]?.spares ?? [];

/** The plan without what was measured before: it holds the carriers that the links have.
 * @param {any} report @param {any[]} carriers */
const settled = (report, carriers) =>
  ({ ...report, carriers, warnings: [], clearance: Object.fromEntries(Object.keys(report.clearance).map((key) => [key, null])) });

/** @param {Page} page @param {number[]} carriers @param {any[]} now */
const ask = (page, carriers, now) => /** @type {const} */ (['standing', { shoot: page.json(), carriers, spares: now.map((row) => row.spares) }]);

/** Moves one link, and keeps the plan if every link stands then. @param {Page} page @param {number} at @param {number} hz */
export async function move(page, at, hz) {
  const { label } = page.view.links[at];
  const now = rows(page);
  const what = `${label} moved from ${now[at].carrier_hz ? formatFrequency(now[at].carrier_hz) : 'no carrier'} to ${formatFrequency(hz)}`;
  const carriers = now.map((row, link) => (link === at ? { ...row, carrier_hz: hz, spares: row.spares.filter((/** @type {number} */ spare) => spare !== hz) } : row));
  const found = await page.engine.ask(...ask(page, carriers.map((row) => row.carrier_hz ?? 0), carriers));
  page.edit(what, (shoot, state) => {
    if (!state.plan) return;
    note(shoot, `${what} MHz`);
    state.plan.report = settled(state.plan.report, carriers);
    if (found.every((/** @type {any} */ one) => !one)) state.plan.key = page.planKey(state);
  });
  page.say(`${what} MHz. Set both ends anew under Pair, and prove it.`, { undo: true });
}

/** @param {Page} page */
const keep = (page) => page.edit('Kept the plan', (_, state) => {
  if (state.plan) Object.assign(state.plan, { report: settled(state.plan.report, rows(page)), key: page.planKey(state) });
});

/** What a change after the plan asks for. Nothing while the plan is as its shoot. @param {Page} page */
export function whatMoves(page) {
  const carriers = page.carriers();
  const whole = page.report()?.status === 'complete' && carriers.every(Boolean);
  if (!page.stale() || !whole) return null;
  const now = rows(page);
  const { site, rules, links } = page.store.here.shoot;
  standing.ask(page.engine, JSON.stringify([site, rules, links, now, page.air.summary, page.air.reading !== null]), ...ask(page, carriers, now), page.render);
  const found = standing.answer;
  if (standing.waiting || !found) return standing.error ? h('p', { class: 'wrong' }, standing.error) : h('p', { class: 'quiet', id: 'moves' }, 'Looking at what still stands.');
  const struck = found.map((/** @type {any} */ one, /** @type {number} */ at) => ({ ...one, at })).filter((/** @type {any} */ one) => one.reasons);
  if (struck.length === 0) {
    return h('div', { class: 'step', id: 'moves' },
      h('p', { class: 'answer' }, 'Every link can stay where it is.'),
      h('div', { class: 'choices' }, h('button', { type: 'button', class: 'main', id: 'keep-plan', onclick: () => keep(page) }, 'Keep this plan')));
  }
  // The one that a spare helps comes first; then it is looked at anew.
  const first = struck.find((/** @type {any} */ one) => one.spare) ?? struck[0];
  const { label } = page.view.links[first.at];
  const others = links.length - struck.length;
  return h('div', { class: 'step', id: 'moves' },
    h('p', { class: 'answer', role: 'status' }, `${label} cannot stay on ${formatFrequency(carriers[first.at])}. `,
      first.spare ? `Move it to ${formatFrequency(first.spare)} MHz${others > 0 && struck.length === 1 ? ', leave the others' : ''}.` : 'None of its spares stands: plan again.'),
    struck.length > 1 && h('p', null, `${plural(struck.length, 'link')} in all: ${struck.map((/** @type {any} */ one) => page.view.links[one.at].label).join(', ')}.`),
    h('ul', { class: 'plain-list' }, h('li', null, sentence(first.reasons[0])),
      first.refused.map((/** @type {any} */ one) => h('li', null, `Spare ${formatFrequency(one.spare)}: ${sentence(one.reasons[0])}`))),
    first.spare && h('div', { class: 'choices' }, h('button', { type: 'button', class: 'main', id: 'move', onclick: () => move(page, first.at, first.spare) }, `Move ${label} to ${formatFrequency(first.spare)}`)));
}
