"use strict";

// What is written is judged a moment after the last key; what was not judged to
// its end is never shown as if it had been.
(() => {
  const { $, make, sentence, count, engine, findings, diagram, Editor } = bench;
  let asked = 0; // the newest question
  let under = ""; // the profile whose rules can be taken
  let startedFrom = { rule: "", amendment: "" };

  const state = (text) => {
    if ($("state").textContent !== text) $("state").textContent = text;
  };

  const changed = bench.debounced(bench.limits.pause, () => judge());
  const typed = () => {
    asked++;
    state("Changed");
    changed();
  };
  const design = new Editor($("design"), { id: "design-text", label: "Design", file: "design.json", accept: ".json,application/json", changed: typed, titled: false });
  const rule = new Editor($("rule"), { id: "rule-text", label: "Rule", file: "rule.rego", accept: ".rego,text/plain", changed: typed });
  const amendment = new Editor($("amendment"), { id: "amendment-text", label: "Amendment", file: "amendment.json", accept: ".json,application/json", changed: typed });
  amendment.text.placeholder = "How the profile adopts the rule, and tables that the class changes.";
  rule.text.placeholder = "A rule in Rego. Choose one above to begin.";

  const request = () => ({ name: design.file, design: design.value, profile: $("profiles").value, rule: rule.value, amendment: amendment.value });

  const phase = (name) => state(name === "open" ? "Preparing the rules" : "Judging");

  const judge = async () => {
    const mine = ++asked;
    engine.hurry();
    await engine.start(progress).then(started, () => {});
    if (mine !== asked) return; // a newer text will be judged instead
    const q = request();
    keep(q);
    if (q.design.trim() === "") return nothing("Choose a sample, open a file, or write a design.");
    try {
      const answer = await engine.ask("review", q, (name) => mine === asked && phase(name));
      if (mine === asked) show(answer);
    } catch (e) {
      if (mine === asked) failed(e, q);
    }
  };

  const nothing = (why) => {
    findings.clear();
    findings.trouble("Nothing to judge", why);
    diagram.draw("", "It is drawn once a design is judged.");
    showFaults([]);
    state("Ready");
  };

  const failed = (e, q) => {
    findings.clear();
    diagram.draw("", "It is drawn once a design is judged.");
    design.mark(new Map());
    showFaults([]);
    let why = sentence(e.message);
    if (e.stopped && q.rule.trim() !== "") why += " Look in the class's rule for a loop over pairs or triples of elements, or take the rule out.";
    else if (e.stopped) why += ` The design has ${bench.bytes(q.design.length)}: a design of this size is for the command review.`;
    findings.trouble("Nothing was judged", why);
    state(e.stopped ? "Stopped" : "Not judged");
  };

  const show = (a) => {
    diagram.draw(a.riser, a.no_riser);
    findings.show(a, (f) => {
      choose("design");
      design.go(f.place.line, f.place.col);
    });
    design.mark(findings.marks());
    showFaults(a.faults);
    if (a.profile.id) $("profiles").options[0].textContent = $("profiles").value ? "The design's own profile" : `The design's own: ${a.profile.amends && a.class ? a.profile.amends : a.profile.id}`;
    const seconds = ((a.opening + a.judging) / 1000).toFixed(2);
    const { fail, open, review, pass } = a.counts;
    state(a.rules ? `Judged in ${seconds} s: ${fail} to mend, ${open} not shown, ${review} for a person, ${pass} met` : "Not judged");
    rules(a);
  };

  // Faults of the class's texts.
  const showFaults = (list) => {
    $("fault-count").textContent = list.length ? ` ${list.length}` : "";
    $("fault-count").setAttribute("aria-label", list.length ? `, ${count(list.length, "fault")}` : "");
    const rows = list.slice(0, 50).map((f) => {
      const editor = { rule, amendment }[f.in];
      const where = { rule: "Rule", amendment: "Amendment" }[f.in];
      const to = editor && f.line ? make("button", { type: "button", class: "place", onclick: () => editor.go(f.line, f.col) }, `${where}, line ${f.line}`) : undefined;
      return make("li", {}, to, " ", make("span", { class: "what" }, sentence(f.message)), bench.hint(f.hint));
    });
    $("faults").replaceChildren(...(rows.length ? [make("ul", { class: "trouble" }, ...rows)] : []));
    for (const [name, editor] of Object.entries({ rule, amendment })) {
      const marks = new Map();
      for (const f of list) if (f.in === name && f.line && !marks.has(f.line)) marks.set(f.line, { kind: "error", text: f.message, go: () => editor.go(f.line, f.col) });
      editor.mark(marks);
    }
  };

  bench.showFaults = () => {
    choose("rule");
    $("faults").querySelector("button")?.focus();
    $("faults").scrollIntoView({ block: "nearest" });
  };

  // The rules that can be changed are those of the profile.
  const rules = async (a) => {
    const id = $("profiles").value || (a.class || a.profile.id === "class-bench" ? a.profile.amends || a.profile.id : a.profile.id);
    if (!id || id === under) return;
    under = id;
    const ids = await engine.ask("rules", { profile: id }).catch(() => []);
    const group = make("optgroup", { label: `Rules of ${id}` }, ...ids.map((r) => make("option", { value: r }, r)));
    $("start").querySelector("optgroup")?.remove();
    $("start").append(group);
  };

  const edited = () => rule.value !== startedFrom.rule || amendment.value !== startedFrom.amendment;

  const startFrom = async () => {
    const choice = $("start").value;
    if (edited() && !confirm("Replace the rule and the amendment written here?")) return;
    let text = { rule: "", amendment: "", adopted: "" };
    if (choice === "new") text = await engine.ask("newRule");
    else if (choice) text = await engine.ask("ruleText", { profile: under, rule: choice });
    const name = choice === "new" ? "too_long" : choice.split("/").pop() || "rule";
    rule.set(text.rule, `${name}.rego`);
    amendment.set(text.amendment, "amendment.json");
    startedFrom = { rule: rule.value, amendment: amendment.value };
    $("adopted").textContent = text.adopted ? `${sentence(text.adopted)} An amendment is needed only to change that.` : "A rule written here is laid over the profile on this page only.";
    typed();
  };

  // Loading.
  const progress = (got, total) => {
    $("loading").hidden = false;
    if (total) $("loading").value = got / total;
    state("Loading the engine");
  };

  let profiles;
  const started = async () => {
    $("loading").hidden = true;
    profiles ??= engine.ask("profiles").then((list) => {
      for (const p of list) $("profiles").append(make("option", { value: p.id }, `${p.id}: ${p.title}`));
      const wanted = $("profiles").dataset.wanted;
      if (wanted) $("profiles").value = wanted;
    });
    return profiles;
  };

  // Tabs.
  const tabs = ["design", "rule"];
  const choose = (name, focus = false) => {
    for (const t of tabs) {
      const on = t === name;
      $(`tab-${t}`).setAttribute("aria-selected", String(on));
      $(`tab-${t}`).tabIndex = on ? 0 : -1;
      $(`pane-${t}`).hidden = !on;
    }
    if (focus) $(`tab-${name}`).focus();
    for (const e of [design, rule, amendment]) e.number();
  };
  for (const [i, t] of tabs.entries()) {
    $(`tab-${t}`).addEventListener("click", () => choose(t));
    $(`tab-${t}`).addEventListener("keydown", (e) => {
      const to = { ArrowLeft: i - 1, ArrowRight: i + 1, Home: 0, End: tabs.length - 1 }[e.key];
      if (to === undefined) return;
      e.preventDefault();
      choose(tabs[(to + tabs.length) % tabs.length], true);
    });
  }

  // A reload keeps what was written, in this tab of the browser alone.
  const keep = (q) => {
    try {
      const small = q.design.length + q.rule.length + q.amendment.length < 1e6;
      if (small) sessionStorage.setItem("bench", JSON.stringify(q));
      else sessionStorage.removeItem("bench");
    } catch {
      // A browser that keeps nothing loses it with the reload.
    }
  };
  const kept = () => {
    try {
      return JSON.parse(sessionStorage.getItem("bench"));
    } catch {
      return null;
    }
  };

  let sampleText = "";
  for (const [i, s] of bench.samples.entries()) $("samples").append(make("option", { value: i }, s.title));
  $("samples").addEventListener("change", () => {
    const s = bench.samples[$("samples").value];
    if (!s) return;
    if (design.value !== sampleText && design.value.trim() !== "" && !confirm("Replace the design written here?")) return;
    design.set(s.text, s.file);
    sampleText = s.text;
    choose("design");
    typed();
  });
  $("profiles").addEventListener("change", typed);
  $("start").addEventListener("change", () => startFrom().catch((e) => findings.trouble("The rule cannot be shown", sentence(e.message))));

  const before = kept();
  if (before) {
    design.set(before.design, before.name);
    rule.set(before.rule);
    amendment.set(before.amendment);
    $("profiles").dataset.wanted = before.profile;
  } else {
    $("samples").value = "0";
    sampleText = bench.samples[0].text;
    design.set(sampleText, bench.samples[0].file);
  }
  engine.start(progress).then(started, (e) => {
    $("loading").hidden = true;
    state("No engine");
    findings.trouble("The engine cannot run in this browser", sentence(e.message));
  });
  judge();
})();
