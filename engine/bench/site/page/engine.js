"use strict";

// bench.engine starts the engine in a worker and asks it one thing at a time.
// Whatever takes longer than its limit is ended together with the worker; the
// next question starts another.
bench.engine = (() => {
  let module; // compiled once, for every worker
  let running; // the worker of now, as a promise
  let queue = Promise.resolve();
  let last = 0;
  let overdue = () => {}; // ends a run that has been judging for long

  const fromFolder = location.protocol === "file:";

  const carried = () =>
    new Promise((resolve, reject) => {
      if (bench.carried) resolve(bench.carried);
      document.head.append(
        bench.make("script", {
          src: "carried.js",
          onload: () => resolve(bench.carried),
          onerror: () => reject(new Error("carried.js is not there: bench --export writes it")),
        }),
      );
    });

  const gunzip = (stream) => new Response(stream.pipeThrough(new DecompressionStream("gzip")), { headers: { "Content-Type": "application/wasm" } });

  const load = async (progress) => {
    if (fromFolder) {
      const text = atob((await carried()).engine);
      const data = new Uint8Array(text.length);
      for (let i = 0; i < text.length; i++) data[i] = text.charCodeAt(i);
      return WebAssembly.compileStreaming(gunzip(new Blob([data]).stream()));
    }
    const response = await fetch("engine.wasm.gz");
    if (!response.ok) throw new Error(`the engine was not found (${response.status})`);
    const total = Number(response.headers.get("Content-Length"));
    let got = 0;
    const counted = new TransformStream({
      transform(chunk, out) {
        got += chunk.length;
        progress(got, total);
        out.enqueue(chunk);
      },
    });
    const stream = response.body.pipeThrough(counted);
    // A server that knows the name has unzipped it on the way already.
    if (response.headers.get("Content-Encoding")) {
      return WebAssembly.compileStreaming(new Response(stream, { headers: { "Content-Type": "application/wasm" } }));
    }
    return WebAssembly.compileStreaming(gunzip(stream));
  };

  const compiled = (progress) => {
    module ??= load(progress).catch((e) => {
      module = undefined;
      throw e;
    });
    return module;
  };

  const script = async () => {
    if (!fromFolder) return "worker.js";
    return URL.createObjectURL(new Blob([(await carried()).worker], { type: "text/javascript" }));
  };

  const spawn = async (progress) => {
    const code = await compiled(progress);
    const worker = new Worker(await script());
    await new Promise((resolve, reject) => {
      const late = setTimeout(() => reject(new Error("the engine did not start")), bench.limits.load);
      worker.onerror = (e) => reject(new Error(e.message || "the engine did not start"));
      worker.onmessage = ({ data }) => {
        clearTimeout(late);
        if (data.ready) resolve();
        else reject(new Error(data.error || "the engine ended"));
      };
      worker.postMessage({ module: code });
    });
    return worker;
  };

  const start = (progress = () => {}) => {
    running ??= spawn(progress).catch((e) => {
      running = undefined;
      throw e;
    });
    return running;
  };

  const stop = async () => {
    const worker = await running;
    running = undefined;
    worker?.terminate();
  };

  // question puts one question to the worker, within the limit of each phase.
  const question = async (method, args, phase) => {
    const worker = await start();
    const id = ++last;
    return new Promise((resolve, reject) => {
      let timer;
      const fail = async (message, stopped) => {
        clearTimeout(timer);
        overdue = () => {};
        await stop();
        reject(Object.assign(new Error(message), { stopped }));
      };
      const within = (name) => {
        clearTimeout(timer);
        timer = setTimeout(() => fail(`stopped after ${Math.round(bench.limits[name] / 1000)} s`, name), bench.limits[name]);
      };
      let since = Infinity;
      overdue = () => {
        if (performance.now() - since > bench.limits.hurry) fail("stopped for a newer text", "newer");
      };
      within("open");
      worker.onerror = (e) => fail(e.message || "the engine broke");
      worker.onmessage = ({ data }) => {
        if (data.ended) return fail("the engine broke, perhaps for lack of memory");
        if (data.id !== id) return undefined;
        if (data.phase) {
          phase(data.phase);
          since = data.phase === "judge" ? performance.now() : Infinity;
          return within(data.phase);
        }
        clearTimeout(timer);
        overdue = () => {};
        return data.error ? reject(new Error(data.error)) : resolve(data.value);
      };
      worker.postMessage({ id, method, args });
    });
  };

  const ask = (method, args = {}, phase = () => {}) => {
    const answer = queue.then(() => question(method, args, phase));
    queue = answer.catch(() => {});
    return answer;
  };

  return { start, ask, hurry: () => overdue() };
})();
