// @ts-check
// Where the page's files come from: beside it on a server, or inside it when the page is one file.
// The single file carries them in inert <script type="application/base64" data-file="NAME"> blocks.

/** @param {string} name */
const block = (name) => document.querySelector(`script[data-file="${CSS.escape(name)}"]`);

/** Whether this page is the one-file form, opened from disk: no server, no service worker.
 * @returns {boolean} */
export const isSingleFile = () => document.querySelector('script[data-file]') !== null;

/** The bytes of a file of the page.
 * @param {string} name as in dist, for example `demo/sweep.csv`
 * @returns {Promise<Uint8Array<ArrayBuffer>>} */
export async function bytes(name) {
  const inside = block(name);
  if (inside) return Uint8Array.from(atob(inside.textContent ?? ''), (letter) => letter.charCodeAt(0));
  const answer = await fetch(new URL(name, document.baseURI));
  if (!answer.ok) throw new Error(`${name}: the server answered ${answer.status}`);
  return new Uint8Array(await answer.arrayBuffer());
}

/** The text of a file of the page.
 * @param {string} name
 * @returns {Promise<string>} */
export const text = async (name) => new TextDecoder().decode(await bytes(name));

/** An address that `new Worker(address, { type: 'module' })` or `audioWorklet.addModule(address)` takes.
 * @param {string} name as in dist, for example `worker.js`
 * @returns {Promise<string>} */
export async function scriptAddress(name) {
  const inside = block(name);
  // A page from disk has no origin, and Chromium 156 then refuses modules from blob addresses, not from data.
  return inside ? `data:text/javascript;base64,${inside.textContent ?? ''}` : new URL(name, document.baseURI).href;
}
