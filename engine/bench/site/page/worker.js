"use strict";

// The engine in a worker: it computes here, so that the page stays alive, and a
// run that takes too long can be ended from outside.
if (typeof Go === "undefined") importScripts("wasm_exec.js");

const call = (method, args) => {
  const out = JSON.parse(self.backpitch[method](JSON.stringify(args)));
  if (out.error) throw new Error(out.error);
  return out.value;
};

const start = async (module) => {
  const go = new Go();
  const ready = new Promise((resolve) => {
    self.backpitchReady = resolve;
  });
  const instance = await WebAssembly.instantiate(module, go.importObject);
  go.run(instance).then(() => postMessage({ ended: true }));
  await ready;
  postMessage({ ready: true });
};

const review = (id, args) => {
  const timed = (phase, method) => {
    postMessage({ id, phase });
    const from = performance.now();
    return [call(method, args), performance.now() - from];
  };
  const [, opening] = timed("open", "open");
  const [value, judging] = timed("judge", "review");
  return { ...value, opening, judging };
};

onmessage = async ({ data: { id, module, method, args } }) => {
  try {
    if (module) await start(module);
    else postMessage({ id, value: method === "review" ? review(id, args) : call(method, args) });
  } catch (e) {
    postMessage({ id, error: String(e?.message ?? e) });
  }
};
