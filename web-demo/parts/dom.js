// @ts-check
// Elements from plain calls, and showing them without losing focus, selection, or what is folded open.

/** @typedef {Node | string | number | null | undefined | false} Child */

const SVG = 'http://www.w3.org/2000/svg';
/** The `on…` properties that `h` set on an element. @type {WeakMap<Element, string[]>} */
const handlers = new WeakMap();

/** An element: h('button', { type: 'button', onclick: save }, 'Save').
 * @param {string} tag
 * @param {Record<string, any> | null} [props] `on…` functions and `value`, `checked` are properties, the rest attributes
 * @param {...(Child | Child[])} children
 * @returns {HTMLElement} */
export function h(tag, props, ...children) {
  const element = document.createElement(tag);
  fill(element, children);
  for (const [key, value] of Object.entries(props ?? {})) {
    if (value === null || value === undefined || value === false) continue;
    if (key.startsWith('on')) {
      /** @type {any} */ (element)[key] = value;
      handlers.set(element, [...(handlers.get(element) ?? []), key]);
    } else if (key === 'value' || key === 'checked') /** @type {any} */ (element)[key] = value;
    else element.setAttribute(key, value === true ? '' : String(value));
  }
  return element;
}

/** The same for a picture.
 * @param {string} tag
 * @param {Record<string, string | number | null | undefined>} props
 * @param {...(Child | Child[])} children
 * @returns {SVGElement} */
export function s(tag, props, ...children) {
  const element = document.createElementNS(SVG, tag);
  for (const [key, value] of Object.entries(props)) {
    if (value !== null && value !== undefined) element.setAttribute(key, String(value));
  }
  fill(element, children);
  return element;
}

/** @param {Element} element @param {(Child | Child[])[]} children */
function fill(element, children) {
  for (const child of children.flat(2)) {
    if (child !== null && child !== undefined && child !== false) element.append(/** @type {Node | string} */ (child));
  }
}

/** Makes what `parent` holds equal to `children`, changing only what differs.
 * @param {Element} parent
 * @param {...(Child | Child[])} children */
export function show(parent, ...children) {
  const fresh = /** @type {Element} */ (parent.cloneNode(false));
  fill(fresh, children);
  mendChildren(parent, fresh);
}

/** @param {Node} node */
const idOf = (node) => (node instanceof Element && node.id) || '';

/** @param {Element} old @param {Element} fresh */
function mendChildren(old, fresh) {
  const wanted = [...fresh.childNodes];
  const ids = new Set(wanted.map(idOf).filter(Boolean));
  // Leave first, so that what stays need not move: moving an element takes the focus from it.
  for (const child of [...old.childNodes]) if (idOf(child) && !ids.has(idOf(child))) child.remove();
  /** @type {Map<string, ChildNode>} */
  const known = new Map();
  for (const child of old.childNodes) if (idOf(child)) known.set(idOf(child), child);
  /** @type {ChildNode | null} */
  let at = old.firstChild;
  for (const want of wanted) {
    const same = idOf(want) ? known.get(idOf(want)) : at && !idOf(at) ? at : null;
    if (same && same.nodeName === want.nodeName) {
      if (same === at) at = at.nextSibling;
      else old.insertBefore(same, at);
      mend(same, want);
    } else {
      old.insertBefore(want, at);
    }
  }
  while (at) {
    const next = at.nextSibling;
    at.remove();
    at = next;
  }
}

/** @param {Node} old @param {Node} want */
function mend(old, want) {
  if (!(old instanceof Element) || !(want instanceof Element)) {
    if (old.nodeValue !== want.nodeValue) old.nodeValue = want.nodeValue;
    return;
  }
  for (const { name } of [...old.attributes]) {
    // Whether something is folded open belongs to the reader.
    if (!want.hasAttribute(name) && !(name === 'open' && old instanceof HTMLDetailsElement)) old.removeAttribute(name);
  }
  for (const { name, value } of [...want.attributes]) if (old.getAttribute(name) !== value) old.setAttribute(name, value);
  const names = handlers.get(want) ?? [];
  for (const name of new Set([...names, ...(handlers.get(old) ?? [])])) {
    /** @type {any} */ (old)[name] = /** @type {any} */ (want)[name] ?? null;
  }
  handlers.set(old, names);
  // Some elements look after their own content.
  if (!want.hasAttribute('data-own')) mendChildren(old, want);
  const from = /** @type {any} */ (want);
  const to = /** @type {any} */ (old);
  if (old instanceof HTMLInputElement && old.type === 'checkbox') to.checked = from.checked;
  else if (/^(INPUT|SELECT|TEXTAREA)$/.test(old.nodeName) && to.type !== 'file' && to.value !== from.value) to.value = from.value;
}

/** A number with thousands parted, as in the sentences of the core.
 * @param {number} value */
export const count = (value) => String(value).replace(/\B(?=(\d{3})+$)/g, ',');

/** "1 link", "2 links".
 * @param {number} amount @param {string} one @param {string} [many] */
export const plural = (amount, one, many = `${one}s`) => `${count(amount)} ${amount === 1 ? one : many}`;
