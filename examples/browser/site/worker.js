// The library runs here, so that the page stays alive while it thinks.
"use strict";
importScripts("wasm_exec.js");

self.longpointReady = () => {
  self.onmessage = ({ data }) => {
    const say = data.kind === "answer" ? self.longpointAnswer : self.longpointRead;
    self.postMessage({ id: data.id, text: say(data.text) });
  };
  self.postMessage({ ready: true });
};

(async () => {
  const go = new Go();
  const response = await fetch("longpoint.wasm");
  if (!response.ok) throw new Error("longpoint.wasm: " + response.status);
  const { instance } = await WebAssembly.instantiate(await response.arrayBuffer(), go.importObject);
  await go.run(instance);
  throw new Error("the solver has ended");
})().catch((e) => self.postMessage({ failed: String(e) }));
