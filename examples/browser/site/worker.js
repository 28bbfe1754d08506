// The library runs here, so that the page stays alive while it thinks.
"use strict";
importScripts("wasm_exec.js");

const ready = new Promise((resolve) => { self.longpointReady = resolve; });

self.onmessage = async ({ data }) => {
  if (data.module) {
    run(data.module).catch((e) => self.postMessage({ failed: String(e) }));
    return;
  }
  await ready;
  if (data.stop) {
    self.longpointStop();
    return;
  }
  self.longpointAsk(data.kind, data.text,
    (headway) => self.postMessage({ id: data.id, headway }),
    (text) => self.postMessage({ id: data.id, text }));
};

async function run(module) {
  const go = new Go();
  await go.run(await WebAssembly.instantiate(module, go.importObject));
  throw new Error("the solver has ended");
}
