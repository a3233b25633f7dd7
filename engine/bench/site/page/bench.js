"use strict";

// The page of the bench. Each file adds its part to this one name.
const bench = {};

bench.$ = (id) => document.getElementById(id);

// make builds an element: its properties, then its children. Text is always
// text, never markup.
bench.make = (name, properties, ...children) => {
  const node = document.createElement(name);
  for (const [key, value] of Object.entries(properties ?? {})) {
    if (value === undefined || value === null) continue;
    if (key === "class") node.className = value;
    else if (key === "data") Object.assign(node.dataset, value);
    else if (key.startsWith("aria-") || key === "role" || key === "for") node.setAttribute(key, value);
    else node[key] = value;
  }
  node.append(...children.filter((c) => c !== undefined && c !== null && c !== ""));
  return node;
};

bench.count = (n, word, words = word + "s") => `${n.toLocaleString("en")} ${n === 1 ? word : words}`;

bench.bytes = (n) => (n < 1e6 ? `${Math.ceil(n / 1e3)} kB` : `${(n / 1e6).toFixed(1)} MB`);

// sentence begins with a capital, unless it begins with code, and ends with a
// full stop.
bench.sentence = (text) => {
  const s = text.trim();
  if (s === "") return s;
  const word = s.split(/[\s,:]/, 1)[0];
  const first = /^[a-z]+$/.test(word) ? s[0].toUpperCase() : s[0];
  return first + s.slice(1) + (/[.?!:]$/.test(s) ? "" : ".");
};

// hint is what to do about a fault; a long list of names stands folded.
bench.hint = (text) => {
  if (!text) return undefined;
  const { make, sentence } = bench;
  const [, act, names] = text.match(/^(.*?)[Tt]here is (.{120,})$/s) ?? [null, text, ""];
  return make("div", { class: "hint" }, sentence(act), names ? make("details", {}, make("summary", {}, "All the names there are"), sentence(names)) : undefined);
};

// debounced calls f when nothing has happened for a while.
bench.debounced = (wait, f) => {
  let timer;
  return () => {
    clearTimeout(timer);
    timer = setTimeout(f, wait);
  };
};

// What the page allows itself. Tests shorten the times.
bench.limits = {
  edit: 400_000, // characters that can be edited here; more is judged and not shown
  pause: 350, // ms without a key before it judges
  load: 120_000, // ms for the engine to start
  open: 60_000, // ms to prepare the rules
  judge: 12_000, // ms to judge a design
  hurry: 3_000, // ms of judging after which a newer text ends it
  list: 120, // findings listed at first
};
