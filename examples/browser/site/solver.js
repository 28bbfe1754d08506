// The library runs in workers. A search lets its worker hear between two steps, so that it
// can be asked to stop with what it has; one that does not listen is stopped by ending the
// worker, and the next starts from the module that is compiled already.

// compile fetches the library, once for all workers, and compiles what has arrived while the
// rest is still on its way. A server that does not know what it serves gets there as well.
export async function compile() {
  const url = document.getElementById("library").href;
  const response = await fetch(url);
  if (!response.ok) throw new Error(url.replace(/.*\//, "") + ": " + response.status);
  if (/^application\/wasm\b/.test(response.headers.get("Content-Type") ?? "")) return WebAssembly.compileStreaming(response);
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
        tell?.(JSON.parse(data.headway));
        return;
      }
      done(JSON.parse(data.text));
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

  // ask returns the answer, or null where the worker was ended before it had one. On the
  // way it calls tell, if given, with how far the search is.
  ask(kind, text, tell) {
    if (!this.#worker) this.#start();
    return new Promise((done) => {
      this.#waiting.set(++this.#number, { done, tell });
      this.#worker.postMessage({ id: this.#number, kind, text });
    });
  }

  // stop asks what runs to answer with the best that it has.
  stop() {
    if (this.#waiting.size > 0) this.#worker.postMessage({ stop: true });
  }

  // end ends what runs without an answer, and makes ready for the next question.
  end() {
    if (this.#waiting.size === 0) return;
    this.#end();
    this.#start();
  }
}
