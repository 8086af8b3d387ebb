// @ts-check
// Levels: from the mouth to the file, transmitter by transmitter; what to set, what clips first, the next setting.

import { deviceKinds, levels, trimBy } from '../pkg/spurless_wasm.js';
import { h, plural, show } from './dom.js';
import { editForm, message } from './fields.js';
import { sentence } from './frame.js';
import { ladder, ladderTable, summary } from './ladder.js';

/** @typedef {import('../app.js').Page} Page */
/** @typedef {import('./fields.js').Field} Field */
/** @typedef {import('../pkg/spurless_wasm.js').LevelsView} LevelsView */

/** @type {import('../pkg/spurless_wasm.js').DeviceKinds | undefined} */
let known;
const kinds = () => (known ??= deviceKinds());
/** What the core said about the last reading, by transmitter. @type {Record<string, { text: string, settings: object | null }>} */
const trimmed = {};

const dB = (/** @type {number} */ value) => `${Math.round(value * 10) / 10}`.replace('-', '−');
/** What a transmitter most often is, by its kind: microphone, transmitter. @type {Record<string, [number, number]>} */
const USUAL = { 'body-worn': [0, 0], handheld: [2, 3], 'plug-on': [4, 1] };
const DEVICES = [['microphone', 'microphones', 'Microphone'], ['transmitter', 'transmitters', 'Transmitter'], ['receiver', 'receivers', 'Receiver'], ['input', 'inputs', 'Input of the camera']];

/** Figures of each device: field, label, unit. @type {Record<string, [string, string, string][]>} */
const FIGURES = {
  microphone: [['sensitivity_dbv', 'Sensitivity, at 94 dB SPL', 'dBV'], ['max_db_spl', 'Loudest sound', 'dB SPL'], ['noise_dba', 'Own noise', 'dB(A)']],
  transmitter: [['full_modulation_dbv', 'Level for full modulation', 'dBV'], ['noise_dbv', 'Noise of its input', 'dBV']],
  receiver: [['full_output_dbv', 'Output at full modulation', 'dBV'], ['noise_dbv', 'Noise of its output', 'dBV']],
  input: [['full_scale_dbv', 'Level for full scale', 'dBV'], ['noise_dbv', 'Noise of its input', 'dBV']],
};
/** @param {string} device @returns {Field[]} */
const figuresOf = (device) => (FIGURES[device] ?? []).map(([key, label, unit]) => ({ key, label, kind: 'number', unit }));

/** @param {any} shoot @param {string} link @param {string} transmitter */
const entry = (shoot, link, transmitter) => (shoot.levels ?? []).find((/** @type {any} */ one) => one.link === link && one.transmitter === transmitter);

/** Every transmitter with what is kept of its levels. @param {Page} page */
const all = (page) => page.store.here.shoot.links.flatMap((/** @type {any} */ link) => (link.transmitters ?? []).map((/** @type {any} */ one) =>
  ({ link: link.label, transmitter: one.label, kind: one.kind ?? 'body-worn', kept: entry(page.store.here.shoot, link.label, one.label) })));

/** What is missing or wrong, for the glance; empty when nothing is. @param {Page} page */
export function levelsWord(page) {
  const rows = all(page);
  const unset = rows.filter((/** @type {any} */ row) => !row.kept?.settings).length;
  const wrong = rows.filter((/** @type {any} */ row) => row.kept?.settings && levels(row.kept.chain, row.kept.settings).complaints.length > 0).length;
  if (wrong > 0) return `Levels of ${plural(wrong, 'transmitter')} do not fit.`;
  return unset > 0 && rows.length > 0 ? `Levels of ${plural(unset, 'transmitter')} not set.` : '';
}

/** @param {Page} page @param {any} row */
function begin(page, row) {
  const { microphones, transmitters, chain } = kinds();
  const [microphone, transmitter] = USUAL[row.kind] ?? [0, 0];
  page.edit(`Entered levels of ${row.transmitter}`, (shoot) => void (shoot.levels ??= []).push({
    link: row.link, transmitter: row.transmitter, settings: null,
    chain: { ...chain, microphone: microphones[microphone]?.device, transmitter: transmitters[transmitter]?.device },
  }));
}

/** @param {Page} page @param {any} row @param {string} what @param {(kept: any) => void} act */
const change = (page, row, what, act) => page.edit(`${what} of ${row.transmitter}`, (shoot) => {
  const kept = entry(shoot, row.link, row.transmitter);
  if (kept) act(kept);
});

const same = (/** @type {any} */ a, /** @type {any} */ b) => JSON.stringify(a, Object.keys(a).sort()) === JSON.stringify(b, Object.keys(a).sort());

/** @param {LevelsView} view @param {any} kept */
function answer(view, kept) {
  if (view.faults.length > 0) return sentence(capital(view.faults[0] ?? ''));
  if (!kept.settings) {
    const set = view.knobs.map((knob) => `${knob.text} to ${dB(knob.best)} dB`);
    return `Set ${set.join(', ')}.`;
  }
  if (view.complaints.length > 0) return sentence(capital(view.complaints[0] ?? ''));
  return `Fits: the loudest word peaks at ${dB(view.diagram.peak_dbfs)} dBFS.`;
}
const capital = (/** @type {string} */ words) => words.charAt(0).toUpperCase() + words.slice(1);

/** @param {Page} page @param {any} row @param {LevelsView} view @param {string} id */
function knobs(page, row, view, id) {
  const set = (/** @type {string} */ knob, /** @type {number} */ to) => change(page, row, 'Set levels', (kept) =>
    void (kept.settings = { ...view.settings, [`${knob}_db`]: Math.round(to * 100) / 100 }));
  return h('div', { class: 'knobs' }, view.knobs.map(({ knob, text, steps, present, best }) => h('div', { class: 'field', id: `${id}-${knob}` },
    h('span', { class: 'strong', id: `${id}-${knob}-name` }, capital(text)),
    h('div', { class: 'amount', role: 'group', 'aria-labelledby': `${id}-${knob}-name` },
      h('button', { type: 'button', 'aria-label': 'lower', disabled: present <= steps.low_db, onclick: () => set(knob, Math.max(steps.low_db, present - steps.step_db)) }, '−'),
      h('output', { class: 'figures', id: `${id}-${knob}-at` }, `${dB(present)} dB`),
      h('button', { type: 'button', 'aria-label': 'higher', disabled: present >= steps.high_db, onclick: () => set(knob, Math.min(steps.high_db, present + steps.step_db)) }, '+')),
    best !== present && h('p', { class: 'hint' }, `Best: ${dB(best)} dB.`))));
}

/** @param {Page} page @param {any} row @param {LevelsView} view @param {string} id */
function trims(page, row, view, id) {
  const key = `${row.link}/${row.transmitter}`;
  const said = trimmed[key];
  const reads = /** @type {const} */ ([
    ['meter', 'Transmitter meter on the loudest word', '%', 'transmitter', (/** @type {number} */ value) => ({ modulation: { percent: Math.max(0, Math.min(100, Math.round(value))) } })],
    ['peak', 'Peak in the file', 'dBFS', 'input', (/** @type {number} */ value) => ({ peak: { dbfs: value } })],
  ]);
  return h('details', { id: `${id}-trim` }, h('summary', null, 'From what a meter shows'),
    h('div', { class: 'inside' },
      reads.map(([name, label, unit, knob, reading]) => {
        const field = `${id}-${name}`;
        const take = (/** @type {Event} */ event) => {
          event.preventDefault();
          const typed = (page.store.drafts[field] ?? '').replace(',', '.').replace('−', '-').trim();
          try {
            if (typed === '' || !Number.isFinite(Number(typed))) throw new Error(`"${typed}" is not a number; write for example ${name === 'meter' ? '70' : '-9'}.`);
            const next = trimBy(row.kept.chain, view.settings, knob, reading(Number(typed)));
            trimmed[key] = { text: next.text, settings: next.settings };
          } catch (error) {
            trimmed[key] = { text: message(error), settings: null };
          }
          page.render();
        };
        return h('form', { class: 'reading', onsubmit: take }, h('div', { class: 'field' },
          h('label', { for: field }, label, h('span', { class: 'unseen' }, ` in ${unit}`)),
          h('div', { class: 'with-unit' },
            h('input', { id: field, inputmode: 'text', autocomplete: 'off', value: page.store.drafts[field] ?? '', oninput: (/** @type {any} */ e) => page.store.draft(field, e.target.value) }),
            h('span', { class: 'unit', 'aria-hidden': 'true' }, unit), h('button', { type: 'submit', id: `${field}-next` }, 'Next setting'))));
      }),
      said && h('p', { class: said.settings ? 'answer' : 'wrong', role: 'status', id: `${id}-trimmed` }, sentence(capital(said.text))),
      said?.settings && !same(said.settings, view.settings) && h('button', { type: 'button', id: `${id}-take`, onclick: () => {
        delete trimmed[key];
        change(page, row, 'Set levels', (kept) => void (kept.settings = said.settings));
      } }, 'It is set so')));
}

/** @param {Page} page @param {any} row @param {string} id */
function devices(page, row, id) {
  const { store, render } = page;
  const list = /** @type {any} */ (kinds());
  const { chain } = row.kept;
  const voice = chain.source?.voice;
  return h('details', { id: `${id}-devices` }, h('summary', null, 'What stands between mouth and file'),
    h('div', { class: 'inside' },
      voice && editForm({ store, id: `${id}-voice`, render, item: voice,
        fields: [{ key: 'distance_cm', label: 'Microphone from the mouth', kind: 'number', unit: 'cm' }, { key: 'loudest_db', label: 'Loudest word, at 1 m', kind: 'number', unit: 'dB(A)' }],
        apply: (key, value) => change(page, row, 'Changed the voice', (kept) => void (kept.chain.source.voice[key] = value)) }),
      DEVICES.flatMap(([device, names, label]) => {
        const [key, of] = [/** @type {string} */ (device), list[/** @type {string} */ (names)]];
        const which = of.findIndex((/** @type {any} */ one) => same(one.device, chain[key]));
        return [
          ...editForm({ store, id: `${id}-${key}`, render, item: { which: String(which) },
            fields: [{ key: 'which', label: /** @type {string} */ (label), kind: 'choice', hint: which < 0 ? 'Your own figures.' : `Typical. ${sentence(capital(of[which].source))}`,
              options: [...of.map((/** @type {any} */ one, /** @type {number} */ at) => [String(at), one.name]), ...(which < 0 ? [['-1', 'own figures']] : [])] }],
            apply: (_, at) => change(page, row, 'Changed a device', (kept) => {
              if (of[at]) kept.chain[key] = of[at].device;
              // Its steps may be others.
              kept.settings = null;
            }) }),
          h('details', { id: `${id}-${key}-figures` }, h('summary', null, `Figures of the ${key}`), h('div', { class: 'inside' },
            editForm({ store, id: `${id}-${key}-own`, render, item: chain[key], fields: figuresOf(key),
              apply: (figure, value) => change(page, row, 'Changed a figure', (kept) => void (kept.chain[key][figure] = value)) }))),
        ];
      }),
      editForm({ store, id: `${id}-pads`, render, item: chain, fields: [
        { key: 'lead_loss_db', label: 'Pad before the transmitter', kind: 'number', unit: 'dB' }, { key: 'cable_loss_db', label: 'Pad before the camera', kind: 'number', unit: 'dB' }],
        apply: (key, value) => change(page, row, 'Changed a pad', (kept) => void (kept.chain[key] = value)) }),
      editForm({ store, id: `${id}-agc`, render, item: chain.input, fields: [{ key: 'automatic_gain', label: 'Its automatic gain is on', kind: 'tick' }],
        apply: (key, value) => change(page, row, 'Changed the input', (kept) => void (kept.chain.input[key] = value)) })));
}

/** @param {Page} page @param {any} row @param {string} id */
function opened(page, row, id) {
  if (!row.kept) return h('div', { class: 'inside' }, h('p', null, 'Nothing entered yet. Begin with typical devices; every figure can be changed.'),
    h('button', { type: 'button', class: 'main', id: `${id}-begin`, onclick: () => begin(page, row) }, 'Begin with typical devices'));
  const view = levels(row.kept.chain, row.kept.settings);
  const bad = view.faults.length > 0 || (row.kept.settings && view.complaints.length > 0);
  const best = view.best.settings;
  const width = Math.max(260, (document.getElementById('levels-body')?.clientWidth ?? 358) - 18);
  return h('div', { class: 'inside' },
    h('p', { class: bad ? 'answer stop-text' : 'answer', id: `${id}-answer`, role: 'status' }, answer(view, row.kept)),
    view.faults.slice(1).map((words) => h('p', { class: 'wrong' }, sentence(capital(words)))),
    (!row.kept.settings || !same(best, view.settings)) && h('button', { type: 'button', class: row.kept.settings ? null : 'main', id: `${id}-best`,
      onclick: () => change(page, row, 'Set levels', (kept) => void (kept.settings = best)) }, row.kept.settings ? 'Set all to the best' : 'They are set so'),
    h('p', null, summary(view)),
    ladder(view, width),
    view.mends.length > 0 && h('div', { class: 'lines' }, h('h4', null, 'No setting alone makes it fit. This would'),
      h('ul', { class: 'plain-list' }, view.mends.map((mend, at) => h('li', { class: 'end' }, h('p', null, sentence(capital(mend.text))),
        h('button', { type: 'button', id: `${id}-mend-${at}`, onclick: () => change(page, row, 'Mended levels', (kept) => Object.assign(kept, { chain: mend.chain, settings: mend.settings })) }, 'Reckon with that'))))),
    knobs(page, row, view, id),
    trims(page, row, view, id),
    h('p', { class: 'quiet' }, `Safety track: ${sentence(view.safety)}`),
    devices(page, row, id),
    ladderTable(view),
    h('p', { class: 'caution' }, view.caution));
}

/** @param {Element} where @param {Page} page */
export function showLevels(where, page) {
  const rows = all(page);
  const word = levelsWord(page);
  const open = (/** @type {string} */ id) => /** @type {HTMLDetailsElement | null} */ (document.getElementById(id))?.open ?? false;
  show(where,
    h('p', { class: 'answer', id: 'levels-answer', role: 'status' },
      rows.length === 0 ? 'No transmitters yet. Add them to the links, under Carriers.' : word || `Levels of ${plural(rows.length, 'transmitter')} set, and they fit.`),
    rows.length > 0 && h('ul', { class: 'rows' }, rows.map((/** @type {any} */ row, /** @type {number} */ at) => {
      const id = `levels-${at}`;
      return h('li', { id: `${id}-row` }, h('details', { id: `${id}-fold`, ontoggle: () => page.render() },
        h('summary', null, h('span', { class: 'grow' }, h('span', { class: 'lead' }, row.link), ' ', row.transmitter),
          h('span', { class: 'quiet' }, row.kept?.settings ? `${dB(levels(row.kept.chain, row.kept.settings).diagram.peak_dbfs)} dBFS` : 'not set')),
        open(`${id}-fold`) && opened(page, row, id)));
    })));
}
