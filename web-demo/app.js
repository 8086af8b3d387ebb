// @ts-check
// The page: what is open, what it means (the core says), and which section shows it.

import init, { checkShoot, hits, version } from './pkg/spurless_wasm.js';
import { bytes, isSingleFile, scriptAddress, text } from './files.js';
import { Store, sweepShelf } from './store.js';
import { Engine, wasStopped } from './parts/engine.js';
import { h, show } from './parts/dom.js';
import { message } from './parts/fields.js';
import { showMast, showTitle, showFoot, showNotice, showWelcome } from './parts/frame.js';
import { showGlance } from './parts/glance.js';
import { showPlace } from './parts/place.js';
import { showSweep } from './parts/sweep.js';
import { showCarriers, showProgress } from './parts/carriers.js';
import { showPair } from './parts/pair.js';
import { showLevels } from './parts/levels.js';
import { showReach } from './parts/reach.js';
import { showSheet } from './parts/sheet.js';
import { showTrouble } from './parts/trouble.js';

/** What the sections see and may do.
 * @typedef {object} Page
 * @property {Store} store
 * @property {Engine} engine
 * @property {any} view the shoot as the core understands it
 * @property {{ summary: any, reading: { read: number, total: number } | null, error: string, stop: () => void, unheard: [number, number][] }} air
 * @property {{ error: string, stop: (() => void) | null }} planning
 * @property {any[]} hits what lands on the carriers of the plan, by the rules as they are now
 * @property {{ text: string, undo?: boolean, act?: { label: string, run: () => void } } | null} notice
 * @property {string} version
 * @property {boolean} single
 * @property {() => void} render
 * @property {(what: string, change: (shoot: any, state: import('./store.js').State) => void) => void} edit
 * @property {(text: string, more?: { undo?: boolean, act?: { label: string, run: () => void } }) => void} say
 * @property {() => string} json the shoot as text
 * @property {() => any} report the plan's report with the links' present names, if there is one
 * @property {() => boolean} stale whether something changed since it was made
 * @property {(state: import('./store.js').State) => string} planKey all that a plan depends on
 * @property {() => number[]} carriers of the links, 0 where there is none
 * @property {(name: string, content: Uint8Array, saved: number | null) => Promise<void>} addSweep
 * @property {() => void} plan
 * @property {(content: string) => void} openShoot throws what the core says against it
 * @property {() => Promise<void>} openDemo
 */

const store = new Store();
const $ = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));

/** @type {Page} */
const page = {
  store,
  engine: /** @type {any} */ (null),
  view: null,
  air: { summary: null, reading: null, error: '', stop: () => {}, unheard: [] },
  planning: { error: '', stop: null },
  hits: [],
  notice: null,
  version: '',
  single: isSingleFile(),
  render,
  json: () => JSON.stringify(store.here.shoot),
  edit(what, change) {
    store.edit(what, (state) => {
      change(state.shoot, state);
      // What the core refuses never gets into the shoot.
      checkShoot(JSON.stringify(state.shoot));
    });
    if (what.startsWith('Removed')) page.say(`${what}.`, { undo: true });
    else if (page.notice?.undo) page.notice = null;
  },
  say(words, more = {}) {
    page.notice = { text: words, ...more };
    render();
  },
  report() {
    const report = store.here.plan?.report;
    if (!report || page.stale()) return report;
    const links = store.here.shoot.links;
    return { ...report, carriers: report.carriers.map((/** @type {any} */ row, /** @type {number} */ at) => ({ ...row, label: links[at]?.label ?? row.label })) };
  },
  stale: () => store.here.plan !== null && store.here.plan.key !== planKey(store.here),
  carriers() {
    const report = page.report();
    return store.here.shoot.links.map((/** @type {any} */ link, /** @type {number} */ at) => {
      const row = page.stale() ? report?.carriers.find((/** @type {any} */ one) => one.label === link.label) : report?.carriers[at];
      return row?.carrier_hz ?? 0;
    });
  },
  async addSweep(name, content, saved) {
    const id = `${Date.now()}-${Math.random().toString(36).slice(2, 8)}`;
    await page.engine.ask('hold', { sweep: id, bytes: content });
    await sweepShelf.put(id, content).catch(() => page.say('This phone cannot keep the sweep: add it again after a reload.'));
    store.edit(`Added the sweep ${name}`, (state) => void state.sweeps.push({ id, name, size: content.length, at: Date.now(), saved }));
  },
  plan,
  planKey,
  openShoot(content) {
    checkShoot(content);
    // What a file may leave out.
    const shoot = { links: [], ...JSON.parse(content) };
    if (!store.active) store.open('own', { shoot, sweeps: [], units: '', plan: null });
    else store.edit(`Opened ${shoot.name}`, (state) => Object.assign(state, { shoot, plan: null }));
    store.forget('');
    page.say(`Opened ${shoot.name || 'the shoot'}.`, { undo: store.here.undo.length > 0 });
  },
  async openDemo() {
    if (!store.slots.demo) {
      const shoot = JSON.parse(await text('demo/shoot.json'));
      store.open('demo', { shoot, sweeps: [], units: '', plan: null });
    } else store.open('demo');
    $('main').focus({ preventScroll: true });
    scrollTo(0, 0);
  },
};

/** All that a plan depends on; names are not. @param {import('./store.js').State} state */
function planKey({ shoot, sweeps, units }) {
  return JSON.stringify([shoot.site, shoot.rules, sweeps.map((one) => one.id), units, shoot.links.map((/** @type {any} */ link) =>
    ({ ...link, label: '', note: '', transmitters: (link.transmitters ?? []).map((/** @type {any} */ one) => one.windows ?? []) }))]);
}

/** What the sweep is read against: another shoot may need other steps heard. */
const listenKey = () => JSON.stringify([store.active, store.here.sweeps.map((one) => one.id), store.here.units,
  store.here.shoot.links.map((/** @type {any} */ { windows, bandwidth_hz, transmitters }) => [windows, bandwidth_hz, transmitters?.map((/** @type {any} */ one) => one.windows)])]);
let listenedFor = '';

async function listen() {
  const key = listenKey();
  if (key === listenedFor) return;
  listenedFor = key;
  page.air.stop();
  const sweeps = store.here.sweeps.map((one) => one.id);
  const asked = page.engine.ask('listen', { shoot: page.json(), sweeps, units: store.here.units }, (progress) => {
    if (listenedFor === key) page.air.reading = progress;
    renderSoon();
  });
  const before = page.air;
  page.air = { ...before, error: '', reading: sweeps.length > 0 ? { read: 0, total: 0 } : null, stop: asked.cancel };
  render();
  try {
    const summary = await asked;
    if (listenedFor !== key) return;
    page.air = { ...page.air, summary, reading: null, stop: () => {}, unheard: summary ? await unheard() : [] };
  } catch (error) {
    if (listenedFor !== key) return;
    page.air = { ...page.air, reading: null, stop: () => {} };
    if (!wasStopped(error)) page.air = { ...page.air, summary: null, unheard: [], error: message(error) };
    else dropLastSweep();
  }
  render();
}

/** A sweep whose reading was stopped is not half there: it is gone. */
function dropLastSweep() {
  const last = store.here.sweeps.at(-1);
  if (last) store.edit(`Stopped reading ${last.name}`, (state) => void state.sweeps.pop());
}

/** The stretches that were not heard, one column a step of the survey. @returns {Promise<[number, number][]>} */
async function unheard() {
  const span = page.view?.span;
  if (!span) return [];
  const columns = Math.min(8192, Math.max(1, Math.round((span.high_hz - span.low_hz) / 25_000)));
  const heard = await page.engine.ask('heard', { low: span.low_hz, high: span.high_hz, columns });
  const at = (/** @type {number} */ column) => span.low_hz + Math.round(((span.high_hz - span.low_hz) * column) / columns);
  /** @type {[number, number][]} */
  const stretches = [];
  for (let from = 0, to = 0; heard && from < columns; from = to + 1) {
    for (to = from; to < columns && !heard[to]; to += 1);
    if (to > from) stretches.push([at(from), at(to)]);
  }
  return stretches;
}

async function plan() {
  if (page.planning.stop) return;
  const state = store.here;
  const key = planKey(state);
  const asked = page.engine.ask('plan', { shoot: page.json() }, (progress) => {
    showProgress(progress);
  });
  page.planning = { error: '', stop: asked.cancel };
  render();
  try {
    const report = await asked;
    if (store.here === state) store.edit('Planned', (now) => void (now.plan = { report, key, at: Date.now() }));
    page.planning = { error: '', stop: null };
  } catch (error) {
    const words = wasStopped(error) ? `Stopped. ${state.plan ? 'The plan that you had still stands.' : 'Nothing was planned.'}` : message(error);
    page.planning = { error: words, stop: null };
  }
  render();
}

let drawn = false;
/** Several changes in a row are shown once. */
function render() {
  if (drawn) return;
  drawn = true;
  queueMicrotask(() => {
    drawn = false;
    draw();
  });
}

let soon = 0;
/** Progress is shown a few times a second: drawing it must not slow down what it is the progress of. */
function renderSoon() {
  soon ||= setTimeout(() => {
    soon = 0;
    render();
  }, 200);
}

function draw() {
  const open = store.active !== null;
  document.documentElement.dataset.light = store.light;
  $('welcome').hidden = open;
  $('day').hidden = !open;
  $('day-nav').hidden = !open;
  if (open) {
    page.hits = page.carriers().some(Boolean) ? hits(page.json(), Uint32Array.from(page.carriers())) : [];
    showTitle($('title'), page);
    showGlance($('glance-body'), page);
    showPlace($('place-body'), page);
    showSweep($('sweep-body'), page);
    showCarriers($('carriers-body'), page);
    showPair($('pair-body'), page);
    showLevels($('levels-body'), page);
    showReach($('reach-body'), page);
    showSheet($('sheet-body'), page);
    showTrouble($('trouble-body'), page);
  } else showWelcome($('welcome-actions'), page);
  showMast($('mast'), page);
  showFoot($('foot'), page);
  showNotice($('notice'), page);
}

store.onChange(() => {
  page.view = store.active ? checkShoot(page.json()) : null;
  if (store.active && page.engine) void listen();
  render();
});

async function start() {
  document.documentElement.dataset.light = store.light;
  const wasm = await bytes('pkg/spurless_wasm_bg.wasm');
  await init({ module_or_path: wasm });
  page.version = version();
  page.engine = new Engine(new Worker(await scriptAddress('worker.js'), { type: 'module' }));
  // The worker has its own copy of the module; it may not ask for files of a page that is one file.
  void page.engine.ask('start', { wasm });
  setAside();
  const needed = store.neededSweeps();
  await Promise.all([...needed].map(async (id) => {
    const content = await sweepShelf.get(id).catch(() => undefined);
    if (content) await page.engine.ask('hold', { sweep: id, bytes: content });
  }));
  sweepShelf.tidy(needed).catch(() => {});
  store.tell();
  // A field that still has the focus when the page goes away has not been left yet.
  addEventListener('pagehide', () => document.activeElement instanceof HTMLElement && document.activeElement.blur());
  addEventListener('resize', render);
  setInterval(render, 60_000);
  if (!page.single && 'serviceWorker' in navigator && isSecureContext) await keepOffline();
}

/** A kept shoot that this version cannot read is put aside, never thrown away. */
function setAside() {
  if (!store.active) return;
  try {
    checkShoot(page.json());
  } catch (error) {
    const kept = page.json();
    try {
      localStorage.setItem('spurless-aside', kept);
    } catch { /* It is offered as a file in any case. */ }
    store.slots[store.active] = null;
    store.active = null;
    page.say(`The shoot on this phone could not be opened: ${message(error)}`, {
      act: { label: 'Save it as a file', run: () => import('./parts/files-out.js').then(({ saveAs }) => saveAs('put-aside.json', kept, 'application/json')) },
    });
  }
}

async function keepOffline() {
  const registration = await navigator.serviceWorker.register('./sw.js');
  const offer = () => registration.waiting && navigator.serviceWorker.controller && page.say('A new version of this page is here. Reload when you like; nothing is lost.', {
    act: { label: 'Reload', run: () => {
      navigator.serviceWorker.addEventListener('controllerchange', () => location.reload(), { once: true });
      registration.waiting?.postMessage('take over');
    } },
  });
  offer();
  registration.addEventListener('updatefound', () => registration.installing?.addEventListener('statechange', offer));
}

start().catch((error) => show($('welcome-actions'),
  h('p', { class: 'wrong', role: 'alert' }, `The page could not start: ${message(error)} Load it again; nothing that you entered is lost.`)));
