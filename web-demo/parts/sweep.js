// @ts-check
// Sweep: what was heard, what was not, and how long ago.

import { formatFrequency } from '../pkg/spurless_wasm.js';
import { bytes } from '../files.js';
import { count, h, plural, show } from './dom.js';
import { editForm, message } from './fields.js';
import { fileButton } from './frame.js';

/** @typedef {import('../app.js').Page} Page */
/** @typedef {import('../store.js').SweepFile} SweepFile */

/** Beyond this a sweep says that it is old (common practice, no published source). */
const OLD_MS = 2 * 60 * 60 * 1000;

/** A paste longer than this is no typing: it is read at once and kept with the sweeps. */
const LONG_PASTE = 100_000;

/** @param {SweepFile} file */
export const old = (file) => Date.now() - file.at > OLD_MS;

/** How long ago the oldest of them was loaded. @param {SweepFile[]} files */
export function age(files) {
  const minutes = Math.floor((Date.now() - Math.min(...files.map((file) => file.at))) / 60_000);
  if (minutes < 1) return 'just now';
  return minutes < 60 ? `${minutes} min ago` : `${Math.floor(minutes / 60)} h ${minutes % 60} min ago`;
}

const CLOCK = new Intl.DateTimeFormat([], { hour: '2-digit', minute: '2-digit' });
const clock = (/** @type {number} */ at) => CLOCK.format(at);
const size = (/** @type {number} */ length) => (length < 1e6 ? `${Math.max(1, Math.round(length / 1e3))} kB` : `${(length / 1e6).toFixed(1)} MB`);

/** @param {Page} page */
function answer({ store, air, view }) {
  const { sweeps } = store.here;
  if (sweeps.length === 0) return 'Nothing was swept. Unheard is not free: add a sweep, or plan without and be promised nothing.';
  if (air.reading) return 'Reading the sweep.';
  if (air.error) return 'The sweep could not be read.';
  if (!view.span) return 'Enter your links: a sweep is read for what they can tune.';
  const { summary } = air;
  if (!summary) return 'The sweep is not read yet.';
  if (summary.heard_cells === 0) return 'Nothing in this sweep lies where your links can tune.';
  const all = summary.heard_cells === summary.cells ? 'all' : `${count(summary.heard_cells)} of`;
  return `Heard ${all} ${count(summary.cells)} steps that your links can use, loaded ${age(sweeps)}.`;
}

/** @param {Page} page */
function facts({ air }) {
  const { summary } = air;
  const row = (/** @type {string} */ name, /** @type {string} */ value) => h('div', null, h('dt', null, name), h('dd', null, value));
  return h('dl', { class: 'facts' },
    summary.heard_low_hz && row('Heard', `${formatFrequency(summary.heard_low_hz)} to ${formatFrequency(summary.heard_high_hz)} MHz`),
    row('Floor', summary.floor_db === null ? 'unknown' : `${summary.floor_db.toFixed(1)} dB as the file counts`),
    row('Passes', count(summary.passes)),
    row('Readings', `${count(summary.readings)} in ${plural(summary.lines_read, 'line')}`));
}

/** @param {Element} where @param {Page} page */
export function showSweep(where, page) {
  const { store, air } = page;
  const { sweeps } = store.here;
  const { summary } = air;
  const take = async (/** @type {File} */ file) => page.addSweep(file.name, new Uint8Array(await file.arrayBuffer()), file.lastModified || null);
  show(where,
    h('p', { class: 'answer', id: 'sweep-answer' }, answer(page)),
    air.error && h('p', { class: 'wrong', role: 'alert' }, air.error),
    sweeps.length > 0 && sweeps.some(old) && h('p', { class: 'caution' }, 'More than two hours old. Sweep again before you roll.'),
    air.reading && h('div', { class: 'working' },
      h('progress', { max: air.reading.total || 1, value: air.reading.read, 'aria-label': 'How much of the sweep is read' }),
      h('button', { type: 'button', id: 'stop-reading', onclick: () => page.air.stop() }, 'Stop reading')),
    h('div', { class: 'choices' },
      fileButton('sweep-file', sweeps.length === 0 ? 'Add a sweep' : 'Add another sweep', '.csv,.txt,.tsv,text/csv,text/plain', take, true),
      store.active === 'demo' && sweeps.length === 0 && h('button', { type: 'button', id: 'demo-sweep', onclick: async () => {
        try {
          await page.addSweep('sweep.csv (demo)', await bytes('demo/sweep.csv'), null);
        } catch (error) {
          page.say(message(error));
        }
      } }, 'Add the demo sweep')),
    summary && !air.reading && facts(page),
    summary && !air.reading && air.unheard.length > 0 && h('div', null,
      h('h3', null, 'Not heard'),
      h('ul', { class: 'plain-list' }, air.unheard.slice(0, 8).map(([low, high]) =>
        h('li', { class: 'figures' }, `${formatFrequency(low)} to ${formatFrequency(high)} MHz`))),
      air.unheard.length > 8 && h('p', { class: 'quiet' }, `and ${count(air.unheard.length - 8)} more. The picture under Carriers shows them all.`),
      h('p', { class: 'quiet' }, 'Nothing is promised there.')),
    summary?.lines_refused > 0 && h('details', { id: 'refused' },
      h('summary', null, `${plural(summary.lines_refused, 'line')} refused; the others were read`),
      h('ul', { class: 'plain-list' }, summary.complaints.map((/** @type {string} */ words) => h('li', null, words)))),
    sweeps.length > 0 && h('ul', { class: 'rows', id: 'sweeps' }, sweeps.map((file, at) => h('li', { id: `sweep-${file.id}`, class: 'row' },
      h('span', { class: 'grow' }, file.name, h('small', null, `${size(file.size)}, loaded at ${clock(file.at)}${file.saved ? `, file from ${clock(file.saved)}` : ''}`)),
      h('button', { type: 'button', class: 'away', 'aria-label': `Remove ${file.name}`, onclick: () =>
        page.edit(`Removed the sweep ${file.name}`, (_, state) => void state.sweeps.splice(at, 1)) }, 'Remove')))),
    h('details', { id: 'paste-fold' },
      h('summary', null, 'Paste a sweep, or say what its numbers mean'),
      h('div', { class: 'inside' },
        editForm({
          store, id: 'units', item: { units: store.here.units }, render: page.render,
          fields: [{ key: 'units', label: 'Frequencies without a unit are in', kind: 'choice',
            options: [['', 'what the file says'], ['hz', 'Hz'], ['khz', 'kHz'], ['mhz', 'MHz'], ['ghz', 'GHz']] }],
          apply: (_, value) => page.edit('Changed the unit of bare frequencies', (__, state) => void (state.units = value ?? '')),
        }),
        h('div', { class: 'field' },
          h('label', { for: 'paste' }, 'Sweep as text'),
          h('p', { class: 'hint', id: 'paste-hint' }, 'A line each: frequency and level, or whole lines of a swept receiver.'),
          h('textarea', { id: 'paste', rows: 6, spellcheck: 'false', 'aria-describedby': 'paste-hint', value: store.drafts['paste'] ?? '',
            oninput: (/** @type {any} */ event) => {
              const typed = event.target.value;
              if (typed.length > LONG_PASTE) void readPasted(page, typed);
              else store.draft('paste', typed);
            } })),
        h('button', { type: 'button', id: 'paste-read', onclick: () => readPasted(page, store.drafts['paste'] ?? '') }, 'Read what is pasted'))));
}

/** @param {Page} page @param {string} typed */
async function readPasted(page, typed) {
  if (!typed.trim()) return page.say('Nothing is pasted yet.');
  await page.addSweep('pasted', new TextEncoder().encode(typed), null);
  page.store.draft('paste', null);
  page.render();
}
