// @ts-check
// What the operator entered, kept at once and for good: nothing typed is lost by a reload or a bad file.
//
// Two places, `own` and `demo`, so that looking around the demo never touches the operator's shoot. Text lies
// in localStorage; sweeps, which may be large, in IndexedDB, and only their names here.

const KEY = 'spurless';
/** Beyond this many characters the oldest undo steps go. */
const MOST = 1_500_000;

/** @typedef {{ id: string, name: string, size: number, at: number, saved: number | null }} SweepFile */
/** @typedef {{ report: any, key: string, at: number }} Plan  `key`: what it was planned for */
/** @typedef {{ shoot: any, sweeps: SweepFile[], units: string, plan: Plan | null }} State */
/** @typedef {State & { undo: { what: string, state: string }[] }} Slot */

export class Store {
  /** @type {'own' | 'demo' | null} */ active = null;
  /** @type {{ own: Slot | null, demo: Slot | null }} */ slots = { own: null, demo: null };
  /** What is typed but not yet in the shoot, by field. @type {Record<string, string>} */ drafts = {};
  /** @type {'auto' | 'day' | 'night'} */ light = 'auto';
  /** Why nothing can be kept, if so. */ trouble = '';
  /** @type {Set<() => void>} */ #listeners = new Set();

  constructor() {
    try {
      const kept = JSON.parse(localStorage.getItem(KEY) ?? 'null');
      if (kept?.version === 1) {
        this.slots = { own: kept.slots?.own ?? null, demo: kept.slots?.demo ?? null };
        this.active = kept.active && this.slots[/** @type {'own'} */ (kept.active)] ? kept.active : null;
        this.drafts = kept.drafts ?? {};
        this.light = kept.light ?? 'auto';
      }
    } catch {
      this.trouble = 'This browser does not let the page keep anything. Save the shoot as a file before you leave.';
    }
  }

  /** @returns {Slot} */
  get here() {
    const slot = this.active && this.slots[this.active];
    if (!slot) throw new Error('no shoot is open');
    return slot;
  }

  /** @param {() => void} listener */
  onChange(listener) {
    this.#listeners.add(listener);
  }

  tell() {
    for (const listener of this.#listeners) listener();
  }

  save() {
    for (;;) {
      try {
        localStorage.setItem(KEY, JSON.stringify({
          version: 1, active: this.active, slots: this.slots, drafts: this.drafts, light: this.light,
        }));
        this.trouble = '';
        return;
      } catch {
        // Full: an undo step less, until it fits.
        const slot = [this.slots.demo, this.slots.own].find((one) => one?.undo.length);
        if (slot) slot.undo.shift();
        else {
          this.trouble = 'This phone has no room left to keep the shoot. Save it as a file before you leave.';
          return;
        }
      }
    }
  }

  /** Changes the open shoot; `change` gets a copy and may throw, and then nothing happened.
   * @param {string} what as in "Removed house 3"; the same text twice running is one undo step
   * @param {(state: State) => void} change */
  edit(what, change) {
    const slot = this.here;
    const before = JSON.stringify(stateOf(slot));
    const state = /** @type {State} */ (JSON.parse(before));
    change(state);
    if (JSON.stringify(state) === before) return;
    if (slot.undo.at(-1)?.what !== what || !what.startsWith('Changed')) slot.undo.push({ what, state: before });
    let size = slot.undo.reduce((sum, step) => sum + step.state.length, 0);
    while (size > MOST && slot.undo.length > 1) size -= slot.undo.shift()?.state.length ?? 0;
    Object.assign(slot, state);
    this.save();
    this.tell();
  }

  /** Takes the last change back. @returns {string} what it was */
  undo() {
    const step = this.here.undo.pop();
    if (!step) return '';
    Object.assign(this.here, JSON.parse(step.state));
    this.drafts = {};
    this.save();
    this.tell();
    return step.what;
  }

  /** @param {'own' | 'demo' | null} which @param {State} [state] what to put there */
  open(which, state) {
    if (which && state) this.slots[which] = { ...state, undo: [] };
    this.active = which;
    this.drafts = {};
    this.save();
    this.tell();
  }

  /** @param {string} key @param {string | null} text null: no longer a draft */
  draft(key, text) {
    if (text === null) delete this.drafts[key];
    else this.drafts[key] = text;
    this.save();
  }

  /** @param {string} prefix */
  forget(prefix) {
    for (const key of Object.keys(this.drafts)) if (key.startsWith(prefix)) delete this.drafts[key];
  }

  /** The sweeps that are still needed, by undo as well. @returns {Set<string>} */
  neededSweeps() {
    const states = [this.slots.own, this.slots.demo].flatMap((slot) =>
      slot ? [slot, ...slot.undo.map((step) => JSON.parse(step.state))] : []);
    return new Set(states.flatMap((state) => state.sweeps.map((/** @type {SweepFile} */ file) => file.id)));
  }
}

/** @param {Slot} slot @returns {State} */
const stateOf = ({ shoot, sweeps, units, plan }) => ({ shoot, sweeps, units, plan });

/** @template T @param {IDBRequest<T>} request @returns {Promise<T>} */
const done = (request) => new Promise((resolve, reject) => {
  request.onsuccess = () => resolve(request.result);
  request.onerror = () => reject(request.error);
});

/** @param {IDBTransactionMode} mode @returns {Promise<IDBObjectStore>} */
async function shelf(mode) {
  const opening = indexedDB.open('spurless', 1);
  opening.onupgradeneeded = () => opening.result.createObjectStore('sweeps');
  return (await done(opening)).transaction('sweeps', mode).objectStore('sweeps');
}

/** The bytes of sweeps, by id. */
export const sweepShelf = {
  /** @param {string} id @param {Uint8Array} bytes */
  put: async (id, bytes) => void (await done((await shelf('readwrite')).put(bytes, id))),
  /** @param {string} id @returns {Promise<Uint8Array | undefined>} */
  get: async (id) => done((await shelf('readonly')).get(id)),
  /** Drops what nothing needs. @param {Set<string>} needed */
  tidy: async (needed) => {
    const store = await shelf('readwrite');
    for (const id of await done(store.getAllKeys())) if (!needed.has(String(id))) store.delete(id);
  },
};
