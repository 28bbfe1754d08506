// The library runs in workers. In WebAssembly a search has the only thread of its
// worker and hears nothing until it ends, so it is stopped by ending the worker; the
// next one starts from the module that is compiled already. What it says on the way is
// heard at once.

// compile fetches the library, once for all workers.
export async function compile() {
  const response = await fetch("longpoint.wasm");
  if (!response.ok) throw new Error("longpoint.wasm: " + response.status);
  return WebAssembly.compile(await response.arrayBuffer());
}

export class Solver {
  #module;
  #failed;
  #worker = null;
  #waiting = new Map(); // by number, who waits for an answer, and who for what comes before it
  #number = 0;

  // failed is called with a reason when a worker ends by itself.
  constructor(module, failed) {
    this.#module = module;
    this.#failed = failed;
    this.#start();
  }

  #start() {
    const worker = this.#worker = new Worker("worker.js");
    // What an ended worker had under way may still arrive.
    worker.onmessage = ({ data }) => {
      if (worker !== this.#worker) return;
      if (data.failed) {
        this.#break(data.failed);
        return;
      }
      const { done, tell } = this.#waiting.get(data.id);
      if (data.headway) {
        tell?.(data.headway);
        return;
      }
      done(data.text);
      this.#waiting.delete(data.id);
    };
    worker.onerror = (e) => {
      if (worker === this.#worker) this.#break(e.message ?? "the worker did not start");
    };
    worker.postMessage({ module: this.#module });
  }

  #break(reason) {
    this.#end();
    this.#failed(reason);
  }

  // #end leaves nobody waiting: whoever did gets null.
  #end() {
    this.#worker?.terminate();
    this.#worker = null;
    const waiting = [...this.#waiting.values()];
    this.#waiting.clear();
    for (const { done } of waiting) done(null);
  }

  // ask returns the answer, or null where the worker was stopped before it had one. On the
  // way it calls tell, if given, with how far the search is.
  ask(kind, text, tell) {
    if (!this.#worker) this.#start();
    return new Promise((done) => {
      this.#waiting.set(++this.#number, { done, tell });
      this.#worker.postMessage({ id: this.#number, kind, text });
    });
  }

  // stop ends what runs, and makes ready for the next question.
  stop() {
    if (this.#waiting.size === 0) return;
    this.#end();
    this.#start();
  }
}
