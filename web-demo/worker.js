// @ts-check
// Everything that may take long: reading sweeps, planning, and the questions that need the sweep.
//
// In: { id, what, ...}. Out: { id, progress } any number of times, then { id, result } or { id, error }.
// { what: 'cancel', id } stops the request of that id, which then answers with error 'stopped'.

import init, { Air, Plan, hits, nearestOpen, openSteps, products, reach, trouble, whyNot } from './pkg/spurless_wasm.js';

/** How long one piece of work may take before messages are looked at. */
const PIECE_MS = 25;
/** How often progress is told. */
const TELL_MS = 150;
const CHUNK = 1 << 18;

/** Until the module is there, questions wait. @type {(started: Promise<unknown>) => void} */
let begin = () => {};
const ready = new Promise((resolve) => {
  begin = resolve;
});
/** @type {Map<string, Uint8Array>} */
const held = new Map();
/** @type {any} */
let air;
/** @type {Set<number>} */
const stopped = new Set();

/** Lets waiting messages in; a message is not slowed down as timers are. @returns {Promise<void>} */
const breathe = () => new Promise((resolve) => {
  const { port1, port2 } = new MessageChannel();
  port1.onmessage = () => {
    port1.close();
    resolve();
  };
  port2.postMessage(null);
});

/** @param {number} id */
async function pause(id) {
  await breathe();
  if (stopped.has(id)) throw new Error('stopped');
}

/** @type {Record<string, (request: any) => any>} */
const work = {
  start: ({ wasm }) => begin(init({ module_or_path: wasm })),

  hold: ({ sweep, bytes }) => void held.set(sweep, bytes),

  /** Reads the held sweeps for a shoot; the earlier ones stay until that is done. */
  async listen({ id, shoot, sweeps, units }) {
    if (sweeps.length === 0) {
      air?.free();
      air = undefined;
      return null;
    }
    const total = sweeps.reduce((/** @type {number} */ sum, /** @type {string} */ one) => sum + (held.get(one)?.length ?? 0), 0);
    const fresh = new Air(shoot, units ? { frequency: units } : undefined);
    try {
      let read = 0;
      for (const sweep of sweeps) {
        const bytes = held.get(sweep) ?? new Uint8Array();
        for (let at = 0; at < bytes.length; at += CHUNK) {
          const chunk = bytes.subarray(at, at + CHUNK);
          fresh.feed(chunk);
          read += chunk.length;
          postMessage({ id, progress: { read, total } });
          await pause(id);
        }
        fresh.endFile();
      }
    } catch (error) {
      fresh.free();
      throw error;
    }
    air?.free();
    air = fresh;
    return air.summary();
  },

  async plan({ id, shoot }) {
    const plan = new Plan(shoot, air);
    try {
      for (let nodes = 256, told = 0; ;) {
        const from = performance.now();
        const progress = plan.step(nodes);
        if (progress.stage === 'done') return plan.report();
        // Only how often we look up depends on the clock, never the answer.
        nodes = performance.now() - from < PIECE_MS ? Math.min(nodes * 2, 1 << 20) : Math.max(nodes >> 1, 16);
        if (performance.now() - told > TELL_MS) {
          told = performance.now();
          postMessage({ id, progress });
        }
        await pause(id);
      }
    } finally {
      plan.free();
    }
  },

  why: ({ shoot, link, carrier, carriers }) => {
    const beside = Uint32Array.from(carriers);
    return {
      reasons: whyNot(shoot, air, link, carrier, beside),
      near: nearestOpen(shoot, air, link, carrier, beside),
    };
  },

  reach: ({ shoot, carriers }) => reach(shoot, air, Uint32Array.from(carriers)),

  trouble: ({ shoot, carriers, spares, now }) => trouble(shoot, air, Uint32Array.from(carriers), Uint32Array.from(spares), now),

  /** Which links cannot stay where they are, why, and the first of their spares that stands. */
  standing: ({ shoot, carriers, spares }) => {
    const beside = Uint32Array.from(carriers);
    const against = (/** @type {number} */ link, /** @type {number} */ hz) => whyNot(shoot, air, link, hz, beside);
    return carriers.map((/** @type {number} */ hz, /** @type {number} */ link) => {
      const reasons = hz ? against(link, hz) : [];
      if (reasons.length === 0) return null;
      const tried = spares[link].map((/** @type {number} */ spare) => ({ spare, reasons: against(link, spare) }));
      const open = tried.findIndex((/** @type {any} */ one) => one.reasons.length === 0);
      return { reasons, spare: tried[open]?.spare ?? null, refused: tried.slice(0, open < 0 ? tried.length : open) };
    });
  },

  /** What the picture needs for the stretch it shows. */
  picture: ({ shoot, link, carriers, low, high, columns }) => {
    const beside = Uint32Array.from(carriers);
    return {
      trace: air ? air.trace(low, high, columns) : null,
      open: link === null ? null : openSteps(shoot, air, link, beside, low, high, columns),
      products: products(shoot, beside, low, high),
      hits: hits(shoot, beside),
    };
  },

  /** Where nothing was heard, cell by cell. */
  heard: ({ low, high, columns }) => (air ? air.trace(low, high, columns).heard : null),
};

/** @param {MessageEvent} event */
onmessage = async ({ data }) => {
  if (data.what === 'cancel') {
    stopped.add(data.id);
    return;
  }
  try {
    if (data.what !== 'start') await ready;
    postMessage({ id: data.id, result: await work[data.what](data) });
  } catch (error) {
    postMessage({ id: data.id, error: error instanceof Error ? error.message : String(error) });
  }
  stopped.delete(data.id);
};
