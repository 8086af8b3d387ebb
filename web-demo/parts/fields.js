// @ts-check
// Forms: a field is label, hint, error and input tied together; what is typed stays, wrong or not.

import { parseFrequency, formatFrequency } from '../pkg/spurless_wasm.js';
import { h } from './dom.js';

/** @typedef {{ key: string, label: string, kind: 'text' | 'mhz' | 'khz' | 'choice' | 'tick' | 'amount' | 'number' | 'clock', hint?: string,
 *   unit?: string, most?: number, options?: [string, string][], optional?: boolean }} Field */
/** @typedef {import('../store.js').Store} Store */

/** Fields that were left once: only then is a mistake in them shown. @type {Set<string>} */
const left = new Set();
/** What the core said about a form as a whole. @type {Map<string, string>} */
const refusals = new Map();

/** A value as the field shows it. @param {Field} field @param {any} value @returns {string} */
function written(field, value) {
  if (value === null || value === undefined) return '';
  if (field.kind === 'mhz') return formatFrequency(value);
  if (field.kind === 'khz') return String(value / 1000);
  if (field.kind === 'clock') return `${String(Math.floor(value / 60)).padStart(2, '0')}:${String(value % 60).padStart(2, '0')}`;
  return String(value);
}

/** The value of what was typed. @param {Field} field @param {string} text */
function meant(field, text) {
  const typed = text.trim();
  if (field.kind === 'tick') return typed === 'true';
  if (field.kind === 'amount') return typed === '' ? null : Number(typed);
  if (field.kind === 'choice') return typed || null;
  if (typed === '') {
    if (field.optional) return field.kind === 'text' ? '' : null;
    throw new Error(`${field.label} is empty.`);
  }
  if (field.kind === 'mhz') return parseFrequency(typed);
  if (field.kind === 'clock') return minutesOf(typed);
  if (field.kind === 'number') {
    const number = Number(typed.replace(',', '.').replace('−', '-'));
    if (Number.isNaN(number)) throw new Error('This is not a number; write one such as 2.5.');
    return number;
  }
  // A bare number here is kilohertz, as the label says.
  if (field.kind === 'khz') return parseFrequency(/[a-z]/i.test(typed) ? typed : `${typed} kHz`);
  return typed;
}

/** Minutes since midnight. @param {string} typed */
function minutesOf(typed) {
  const [, hours, minutes] = typed.match(/^(\d{1,2})\s*[:.h]?\s*(\d\d)$/) ?? [];
  if (minutes === undefined || Number(minutes) > 59 || Number(hours) > 36) throw new Error('This is not a time of day; write one such as 14:40.');
  return Number(hours) * 60 + Number(minutes);
}

/** @param {Field} field @param {string} text @returns {string} '' if there is nothing wrong */
function complaint(field, text) {
  try {
    meant(field, text);
    return '';
  } catch (error) {
    // The core says what to write; which text it means is known here.
    return text.trim() ? `"${text.trim()}": ${message(error)}` : message(error);
  }
}

/** @param {unknown} error */
export const message = (error) => (error instanceof Error ? error.message : String(error));

/** One field with its input. @param {{ id: string, field: Field, text: string, wrong: string,
 *   typed: (text: string) => void, leave: () => void, pick: (text: string) => void }} given */
function control({ id, field, text, wrong, typed, leave, pick }) {
  const told = [field.hint && `${id}-hint`, wrong && `${id}-wrong`].filter(Boolean).join(' ') || null;
  const hint = field.hint && h('p', { class: 'hint', id: `${id}-hint` }, field.hint);
  const problem = wrong && h('p', { class: 'wrong', id: `${id}-wrong` }, wrong);
  if (field.kind === 'tick') {
    return h('div', { class: 'field', id: `${id}-field` },
      h('label', { class: 'tick', for: id },
        h('input', { type: 'checkbox', id, checked: text === 'true', 'aria-describedby': told,
          onchange: (/** @type {any} */ e) => pick(String(e.target.checked)) }),
        h('span', null, field.label)), hint, problem);
  }
  const unit = field.unit ?? (field.kind === 'mhz' ? 'MHz' : field.kind === 'khz' ? 'kHz' : '');
  const label = h('label', { for: id }, field.label, unit && h('span', { class: 'unseen' }, ` in ${unit}`));
  if (field.kind === 'amount') {
    const at = text === '' ? 0 : Number(text);
    const step = (/** @type {number} */ by) => () => pick(String(Math.min(field.most ?? 99, Math.max(0, at + by))));
    return h('div', { class: 'field', id: `${id}-field` }, label, hint,
      h('div', { class: 'amount' },
        h('button', { type: 'button', 'aria-label': `${field.label}: less`, onclick: step(-1), disabled: at <= 0 }, '−'),
        h('input', { id, inputmode: 'numeric', value: text, autocomplete: 'off', 'aria-describedby': told,
          onchange: (/** @type {any} */ e) => pick(/^\d+$/.test(e.target.value.trim()) ? String(Math.min(field.most ?? 99, Number(e.target.value))) : text) }),
        h('button', { type: 'button', 'aria-label': `${field.label}: more`, onclick: step(1), disabled: at >= (field.most ?? 99) }, '+')),
      problem);
  }
  if (field.kind === 'choice') {
    return h('div', { class: 'field', id: `${id}-field` }, label, hint,
      h('select', { id, 'aria-describedby': told, value: text, onchange: (/** @type {any} */ e) => pick(e.target.value) },
        (field.options ?? []).map(([value, words]) => h('option', { value, selected: value === text }, words))), problem);
  }
  return h('div', { class: 'field', id: `${id}-field` }, label, hint,
    h('div', { class: unit ? 'with-unit' : 'plain' },
      h('input', {
        id, value: text, type: 'text', autocomplete: 'off', autocapitalize: 'off', spellcheck: 'false',
        inputmode: unit && field.kind !== 'number' ? 'decimal' : 'text', maxlength: field.kind === 'text' ? field.most : null,
        'aria-describedby': told, 'aria-invalid': wrong ? 'true' : null,
        oninput: (/** @type {any} */ e) => typed(e.target.value), onblur: leave,
      }),
      unit && h('span', { class: 'unit', 'aria-hidden': 'true' }, unit)),
    problem);
}

/** The fields of something that exists: each is taken over when it is left.
 * @param {{ store: Store, id: string, fields: Field[], item: any, apply: (key: string, value: any) => void, render: () => void }} given */
export function editForm({ store, id, fields, item, apply, render }) {
  const take = (/** @type {Field} */ field, /** @type {string} */ text) => {
    const key = `${id}.${field.key}`;
    left.add(key);
    refusals.delete(key);
    try {
      apply(field.key, meant(field, text));
      store.draft(key, null);
    } catch (error) {
      store.draft(key, text);
      refusals.set(key, message(error));
    }
    render();
  };
  return fields.map((field) => {
    const key = `${id}.${field.key}`;
    const draft = store.drafts[key];
    const wrong = draft === undefined ? '' : refusals.get(key) || (left.has(key) ? complaint(field, draft) : '');
    return control({
      id: `${id}-${field.key}`, field, text: draft ?? written(field, item[field.key]), wrong,
      typed: (text) => store.draft(key, text),
      leave: () => store.drafts[key] !== undefined && take(field, store.drafts[key]),
      pick: (text) => take(field, text),
    });
  });
}

/** The form for something new. Nothing is taken over before its button is pressed; what is typed is kept.
 * @param {{ store: Store, id: string, fields: Field[], blank: any, label: string, add: (values: any) => void, render: () => void }} given */
export function addForm({ store, id, fields, blank, label, add, render }) {
  const textOf = (/** @type {Field} */ field) => store.drafts[`${id}.${field.key}`] ?? written(field, blank[field.key]);
  const wrongs = fields.map((field) => (left.has(`${id}.${field.key}`) ? complaint(field, textOf(field)) : ''));
  const refused = refusals.get(id);
  const send = (/** @type {Event} */ event) => {
    event.preventDefault();
    refusals.delete(id);
    for (const field of fields) left.add(`${id}.${field.key}`);
    const bad = fields.find((field) => complaint(field, textOf(field)));
    if (!bad) {
      try {
        add(Object.fromEntries(fields.map((field) => [field.key, meant(field, textOf(field))])));
        for (const field of fields) left.delete(`${id}.${field.key}`);
        store.forget(`${id}.`);
        store.save();
      } catch (error) {
        refusals.set(id, message(error));
      }
    }
    render();
    if (bad) document.getElementById(`${id}-${bad.key}`)?.focus();
  };
  return h('form', { id: `${id}-form`, novalidate: true, onsubmit: send },
    refused && h('p', { class: 'wrong', role: 'alert' }, refused),
    fields.map((field, at) => {
      const key = `${id}.${field.key}`;
      const keep = (/** @type {string} */ text) => store.draft(key, text);
      return control({
        id: `${id}-${field.key}`, field, text: textOf(field), wrong: wrongs[at] ?? '',
        typed: keep,
        leave: () => {
          if (store.drafts[key]) left.add(key);
          render();
        },
        pick: (text) => {
          keep(text);
          render();
        },
      });
    }),
    // A field that is left may lose its complaint, and the button would move away from under the finger.
    h('button', { type: 'submit', onmousedown: (/** @type {Event} */ event) => event.preventDefault() }, label));
}

/** @param {string} id */
const isOpen = (id) => /** @type {HTMLDetailsElement | null} */ (document.getElementById(id))?.open ?? false;

/** A list of things: a row each that folds open to its fields, and a fold to add one.
 * @param {{ store: Store, id: string, items: any[], row: (item: any, at: number) => (Node | string)[], fields: (item: any, at: number) => Field[],
 *   more?: (item: any, at: number) => (Node | string | false | null)[], blank: any, adding: Field[], addLabel: string,
 *   name: (item: any) => string, one: string,
 *   apply: (at: number, key: string, value: any) => void, add: (values: any) => void, remove: (at: number) => void,
 *   render: () => void }} given */
export function listEditor(given) {
  const { store, id, items, row, fields, more, blank, adding, addLabel, one, render } = given;
  return h('div', { class: 'list', id: `${id}-list` },
    items.length > 0 && h('ul', { class: 'rows' }, items.map((item, at) => {
      const own = `${id}-${at}`;
      return h('li', { id: `${own}-row` },
        h('details', { id: `${own}-fold`, ontoggle: () => render() },
          h('summary', null, ...row(item, at)),
          // What nobody looks at is not built: there may be hundreds of rows.
          isOpen(`${own}-fold`) && h('div', { class: 'inside' },
            ...(more?.(item, at) ?? []),
            ...editForm({ store, id: own, fields: fields(item, at), item, apply: (key, value) => given.apply(at, key, value), render }),
            h('button', {
              type: 'button', class: 'away', id: `${own}-remove`,
              onclick: () => {
                // The rows below move up: what is typed or open in this one must not go to its neighbour.
                store.forget(`${id}-`);
                /** @type {HTMLDetailsElement} */ (document.getElementById(`${own}-fold`)).open = false;
                given.remove(at);
              },
            }, `Remove ${given.name(item) || one}`))));
    })),
    h('details', { class: 'add', id: `${id}-add-fold`, ontoggle: () => render() },
      h('summary', null, addLabel),
      isOpen(`${id}-add-fold`) && h('div', { class: 'inside' },
        addForm({ store, id: `${id}-add`, fields: adding, blank, label: addLabel, render, add: (values) => {
          given.add(values);
          /** @type {HTMLDetailsElement} */ (document.getElementById(`${id}-add-fold`)).open = false;
        } }))));
}
