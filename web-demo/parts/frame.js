// @ts-check
// What stands around the sections: first visit, title, undo, notices, the page's own settings.

import { h, show } from './dom.js';
import { editForm, message } from './fields.js';
import { verdict } from './glance.js';

/** @typedef {import('../app.js').Page} Page */

let opening = '';

/** A button that asks for a file. @param {string} id @param {string} label @param {string} accept
 * @param {(file: File) => void} take @param {boolean} [many] */
export function fileButton(id, label, accept, take, many = false) {
  return h('div', { class: 'file' },
    h('input', { type: 'file', id, accept, multiple: many, class: 'unseen-input', onchange: async (/** @type {any} */ event) => {
      const files = [...event.target.files];
      for (const file of files) await take(file);
      // So that the same file can be chosen again.
      event.target.value = '';
    } }),
    h('label', { for: id, class: 'button' }, label));
}

/** @param {Page} page @param {string} id */
export function openShootButton(page, id) {
  const take = async (/** @type {File} */ file) => {
    try {
      if (file.size > 4_000_000) throw new Error(`${Math.round(file.size / 1e6)} MB is too large for a shoot; choose the file that was saved under Sheet.`);
      page.openShoot(await file.text());
      opening = '';
    } catch (error) {
      opening = `${file.name} was not opened. ${sentence(message(error))} ${page.store.active ? 'Your shoot is as it was.' : ''}`;
    }
    page.render();
  };
  return [
    fileButton(id, 'Open a saved shoot', '.json,application/json', take),
    opening && h('p', { class: 'wrong', role: 'alert', id: `${id}-wrong` }, opening),
  ];
}

/** With a full stop, so that another sentence may follow. @param {string} words */
export const sentence = (words) => (/[.!?]$/.test(words) ? words : `${words}.`);

/** @param {Element} where @param {Page} page */
export function showWelcome(where, page) {
  show(where,
    h('div', { class: 'choices' },
      h('button', { type: 'button', class: 'main', id: 'start', onclick: () => startShoot(page) }, 'Start a shoot'),
      h('button', { type: 'button', id: 'look', onclick: () => page.openDemo() }, 'Look around the demo shoot'),
      ...openShootButton(page, 'open-first')),
    h('p', { class: 'quiet' }, 'Nothing that you enter leaves this phone. The demo is invented: its place, people and readings.'));
}

/** @param {Page} page */
function startShoot(page) {
  page.store.open('own', {
    shoot: { format: 'spurless-shoot', version: 1, name: '', site: { region: 'none' }, links: [] },
    sweeps: [], units: '', plan: null,
  });
  queueMicrotask(() => document.getElementById('shoot-name')?.focus());
}

/** @param {Element} where @param {Page} page */
export function showMast(where, page) {
  const { store } = page;
  const last = store.active && store.here.undo.at(-1)?.what;
  show(where,
    store.active
      ? h('a', { class: verdict(page).stop ? 'mark stop-text' : 'mark', href: '#glance' }, h('span', { class: 'flag', 'aria-hidden': 'true' }), verdict(page).head)
      : h('p', { class: 'mark' }, h('span', { class: 'flag', 'aria-hidden': 'true' }), 'Spurless'),
    store.active && h('button', { type: 'button', class: 'plain', id: 'undo', disabled: !last, title: last ? `Take back: ${last}` : null, onclick: () => undo(page) },
      'Undo', last && h('span', { class: 'unseen' }, `: ${last}`)));
}

/** @param {Page} page */
function undo(page) {
  const what = page.store.undo();
  if (what) page.say(`Taken back: ${what.charAt(0).toLowerCase()}${what.slice(1)}.`);
}

/** @param {Element} where @param {Page} page */
export function showTitle(where, page) {
  const { store, view } = page;
  const demo = store.active === 'demo';
  show(where,
    demo && h('div', { class: 'demo' },
      h('p', null, h('strong', null, 'Demo'), ', all invented.'),
      h('button', { type: 'button', id: 'leave-demo', onclick: () => leave(page) }, store.slots.own ? 'Back to your shoot' : 'Leave the demo')),
    h('h1', { class: 'title' }, view.name || 'Your shoot'),
    view.note && h('p', { class: 'quiet' }, view.note));
}

/** @param {Page} page */
function leave(page) {
  page.store.open(page.store.slots.own ? 'own' : /** @type {any} */ (null));
  page.notice = null;
  scrollTo(0, 0);
}

/** @param {Element} where @param {Page} page */
export function showNotice(where, page) {
  const { notice } = page;
  const trouble = page.store.trouble;
  if (!notice && !trouble) return show(where);
  show(where,
    h('p', null, trouble || notice?.text),
    h('div', { class: 'choices' },
      notice?.undo && h('button', { type: 'button', id: 'notice-undo', onclick: () => undo(page) }, 'Undo'),
      notice?.act && h('button', { type: 'button', onclick: notice.act.run }, notice.act.label),
      !trouble && h('button', { type: 'button', class: 'plain', id: 'notice-close', onclick: () => {
        page.notice = null;
        page.render();
      } }, 'Close')));
}

/** @param {Element} where @param {Page} page */
export function showFoot(where, page) {
  const { store } = page;
  show(where,
    h('div', { class: 'foot-fields' },
      editForm({
        store, id: 'page', render: page.render, item: { light: store.light },
        fields: [{ key: 'light', label: 'Light', kind: 'choice', options: [['auto', 'As the phone'], ['day', 'Day'], ['night', 'Night']] }],
        apply: (_, value) => {
          store.light = value;
          store.save();
        },
      }),
      store.active === 'own' && h('button', { type: 'button', class: 'plain', id: 'look', onclick: () => page.openDemo() }, 'Look around the demo shoot'),
      store.active === 'own' && h('button', { type: 'button', class: 'plain', id: 'afresh', onclick: () => {
        store.edit('Started afresh', (state) => Object.assign(state, {
          shoot: { format: 'spurless-shoot', version: 1, name: '', site: { region: 'none' }, links: [] }, sweeps: [], plan: null,
        }));
        page.say('Started afresh. The shoot before is one Undo away.', { undo: true });
        scrollTo(0, 0);
      } }, 'Start afresh')),
    h('p', { class: 'quiet' }, `Spurless ${page.version}. ${page.single ? 'One file, no network needed.' : 'Works without a network once it has been loaded.'} Nothing leaves this phone.`));
}
