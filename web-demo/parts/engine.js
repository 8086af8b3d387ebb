// @ts-check
// The page's end of worker.js: questions out, answers back, in any order.

export class Engine {
  #next = 1;
  /** @type {Map<number, { resolve: (value: any) => void, reject: (error: Error) => void, progress?: (p: any) => void }>} */
  #waiting = new Map();

  /** @param {Worker} worker */
  constructor(worker) {
    this.worker = worker;
    worker.onmessage = ({ data }) => {
      const waiting = this.#waiting.get(data.id);
      if (!waiting) return;
      if ('progress' in data) return waiting.progress?.(data.progress);
      this.#waiting.delete(data.id);
      if ('error' in data) waiting.reject(new Error(data.error));
      else waiting.resolve(data.result);
    };
    worker.onerror = () => {
      for (const { reject } of this.#waiting.values()) reject(new Error('The part that computes stopped. Load the page again; nothing that you entered is lost.'));
      this.#waiting.clear();
    };
  }

  /** @param {string} what @param {Record<string, any>} [request] @param {(progress: any) => void} [progress]
   * @returns {Promise<any> & { cancel: () => void }} */
  ask(what, request = {}, progress) {
    const id = this.#next++;
    const answer = new Promise((resolve, reject) => this.#waiting.set(id, { resolve, reject, progress }));
    this.worker.postMessage({ ...request, what, id });
    return Object.assign(answer, { cancel: () => this.worker.postMessage({ what: 'cancel', id }) });
  }
}

/** Whether an answer is missing only because somebody stopped it. @param {unknown} error */
export const wasStopped = (error) => error instanceof Error && error.message === 'stopped';

/** The newest answer to a question that is asked again whenever something that it depends on has changed. */
export class Standing {
  #asked = '';
  /** @type {any} */ answer = null;
  /** What the core said against it. */ error = '';
  /** Whether the answer is from before the last change. */ waiting = false;

  /** @param {Engine} engine @param {string} key all that the answer depends on @param {string} what @param {Record<string, any>} request
   * @param {() => void} told */
  ask(engine, key, what, request, told) {
    if (key === this.#asked) return;
    this.#asked = key;
    this.waiting = true;
    const take = (/** @type {any} */ answer, /** @type {string} */ error) => {
      if (key !== this.#asked) return;
      Object.assign(this, { answer, error, waiting: false });
      told();
    };
    engine.ask(what, request).then((answer) => take(answer, ''), (error) => take(null, error instanceof Error ? error.message : String(error)));
  }
}
