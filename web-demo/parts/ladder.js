// @ts-check
// The level diagram: the voice runs level from left to right, ceilings come down to it and floors come up. Where
// the gap is narrowest, the chain is weakest.

import { h, s } from './dom.js';

/** @typedef {import('../pkg/spurless_wasm.js').LevelsView} LevelsView */
/** @typedef {import('../pkg/spurless_wasm.js').Rung} Rung */

const dB = (/** @type {number} */ value) => `${Math.round(value * 10) / 10}`.replace('-', '−');

/** Every stage moved so that its loudest word stands where the file's does. @param {LevelsView} view */
function moved(view) {
  const { rungs } = view.diagram;
  const file = /** @type {Rung} */ (rungs.at(-1));
  return rungs.map((rung) => {
    const by = file.loud - rung.loud;
    return { floor: rung.floor + by, quiet: rung.quiet + by, average: rung.average + by, loud: rung.loud + by, ceiling: rung.ceiling === null ? null : rung.ceiling + by };
  });
}

/** @param {LevelsView} view @param {number} width */
export function ladder(view, width) {
  const unit = parseFloat(getComputedStyle(document.documentElement).fontSize) / 18;
  const tall = 210 * unit;
  const stages = moved(view);
  const ceilings = stages.flatMap((one) => (one.ceiling === null ? [] : [one.ceiling]));
  const top = Math.max(...ceilings, ...stages.map((one) => one.loud)) + 6;
  const low = Math.max(Math.min(...stages.map((one) => Math.min(one.floor, one.quiet))) - 6, top - 110);
  const y = (/** @type {number} */ level) => Math.min(tall, Math.max(0, ((top - level) / (top - low)) * tall));
  const step = width / stages.length;
  const box = (/** @type {number} */ at, /** @type {number} */ from, /** @type {number} */ to, /** @type {string} */ shape) =>
    s('rect', { x: at * step, y: Math.min(y(from), y(to)), width: step, height: Math.abs(y(to) - y(from)), class: shape });
  const clip = view.stages.indexOf(view.first_to_clip);
  const [first] = stages;
  const line = (/** @type {number} */ at, /** @type {number} */ level, /** @type {string} */ shape) =>
    s('path', { d: `M${at * step} ${y(level)}h${step}`, class: shape });
  const word = (/** @type {number} */ level, /** @type {string} */ text) => s('text', { x: 6, y: y(level) + 15 * unit, class: 'word halo' }, text);
  return h('div', { class: 'ladder', id: 'ladder', role: 'img', 'aria-label': summary(view) },
    s('svg', { viewBox: `0 0 ${width} ${tall}`, width, height: tall, 'aria-hidden': 'true' },
      s('defs', {}, s('pattern', { id: 'ladder-hatch', width: 7, height: 7, patternUnits: 'userSpaceOnUse', patternTransform: 'rotate(45)' }, s('path', { d: 'M0 0V7', class: 'hatch' }))),
      stages.flatMap((one, at) => [
        box(at, one.loud, Math.max(one.quiet, one.floor), 'voice'),
        one.ceiling !== null && s('rect', { x: at * step, y: 0, width: step, height: y(one.ceiling), fill: 'url(#ladder-hatch)' }),
        s('rect', { x: at * step, y: y(one.floor), width: step, height: tall - y(one.floor), class: 'ground-floor' }),
        one.ceiling !== null && line(at, one.ceiling, at === clip ? 'ceiling narrow' : 'ceiling'),
        line(at, one.floor, 'floor'),
        line(at, one.average, 'usual'),
      ].filter(Boolean)),
      first && [word(first.loud, 'loudest word'), word(first.average, 'usual voice')]),
    h('p', { class: 'ladder-numbers figures', 'aria-hidden': 'true' }, view.stages.map((_, at) => h('span', { class: at === clip ? 'strong' : null }, String(at + 1)))),
    h('p', { class: 'hint', 'aria-hidden': 'true' }, view.stages.map((name, at) => `${at + 1} ${name.replace(/^the /, '')}`).join(', '), '.'));
}

/** What the picture says, in words. @param {LevelsView} view */
export function summary(view) {
  const { room, quiet_to_noise: quiet } = view.diagram;
  const clips = room < 0 ? `${view.first_to_clip} clips: the loudest word is ${dB(-room)} dB over it` : `${view.first_to_clip} clips first, ${dB(room)} dB above the loudest word`;
  return `${clips.charAt(0).toUpperCase()}${clips.slice(1)}. Most of the noise is from ${view.noisiest}; the quietest words stand ${dB(quiet)} dB over it.`;
}

/** The same as a table. @param {LevelsView} view */
export function ladderTable(view) {
  const head = ['Stage', 'Noise', 'Quietest', 'Usual', 'Loudest', 'Ceiling'];
  return h('details', { id: 'ladder-table' }, h('summary', null, 'The same as a table'),
    h('div', { class: 'inside wide', tabindex: '0', role: 'group', 'aria-label': 'Levels stage by stage' }, h('table', null,
      h('thead', null, h('tr', null, head.map((name, at) => h('th', { scope: 'col', class: at > 0 ? 'number' : null }, name)))),
      h('tbody', null, view.diagram.rungs.map((rung, at) => h('tr', null,
        h('th', { scope: 'row' }, view.stages[at]?.replace(/^the /, ''), h('small', null, rung.unit)),
        [rung.floor, rung.quiet, rung.average, rung.loud].map((level) => h('td', { class: 'number' }, dB(level))),
        h('td', { class: 'number' }, rung.ceiling === null ? 'none' : dB(rung.ceiling))))))));
}
