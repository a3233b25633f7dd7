"use strict";

// bench.findings lists what a review found, what is to be mended first.
bench.findings = (() => {
  const { make, $, sentence, count } = bench;
  const outcomes = [
    { key: "fail", word: "to mend", shown: true },
    { key: "open", word: "not shown", shown: true },
    { key: "review", word: "for a person", shown: true },
    { key: "pass", word: "met", shown: false },
  ];
  let answer;
  let whole = false;
  let go = () => {};

  const kind = (f) => (f.outcome === "fail" ? f.level : f.outcome);
  const tag = (f) => ({ fail: f.level, open: "not shown", review: "a person decides", pass: "met" })[f.outcome];

  const term = (name, text) => (text ? make("div", {}, make("dt", {}, name), make("dd", {}, text)) : undefined);

  const required = (f) => {
    const section = f.section === "common practice" ? "common practice of the trade" : `${f.section} (${f.basis})`;
    return sentence(`${section}; ${f.verify}`);
  };

  const figures = (f) => {
    if (!f.measured || !f.limit) return undefined;
    const basis = f.limit_basis ? ` (figure ${f.limit_basis})` : "";
    return `found ${f.measured.text}, limit ${f.limit.text}${basis}`;
  };

  const card = (f) => {
    const number = f.n ? make("span", { class: "number" }, make("span", { class: "hidden" }, "Finding "), String(f.n)) : undefined;
    const places = make("p", { class: "places" });
    if (f.place.line) places.append(make("button", { type: "button", class: "place", onclick: () => go(f) }, `Line ${f.place.line}`));
    const drawn = document.getElementById(f.element);
    if (drawn) places.append(make("button", { type: "button", class: "place", onclick: () => bench.diagram.show(f.element) }, "In the diagram"));
    return make(
      "li",
      { class: `item ${kind(f)}`, id: f.n ? `finding-${f.n}` : undefined, tabIndex: -1 },
      make("p", { class: "title" }, number, make("strong", {}, f.title), " ", make("span", { class: "tag" }, tag(f))),
      make("p", {}, sentence(f.message)),
      make("dl", {}, term("Figures", figures(f)), term("Missing", f.missing?.join(", ")), term("Required by", required(f)), f.outcome === "pass" ? undefined : term("To mend", f.remedy), term("Rule", f.rule)),
      places,
    );
  };

  const listed = () => answer.items.filter((f) => outcomes.find((o) => o.key === f.outcome).shown);

  const list = () => {
    const all = listed();
    const some = whole ? all : all.slice(0, bench.limits.list);
    $("list").replaceChildren(...some.map(card));
    const more = $("more");
    more.replaceChildren();
    if (all.length > some.length) {
      more.append(
        `${count(all.length - some.length, "more finding")} of those chosen. `,
        make("button", { type: "button", onclick: () => ((whole = true), list()) }, "List them all"),
      );
    }
    if (answer.left > 0) more.append(` ${count(answer.left, "finding")} beyond what this page can hold are counted above and not listed; the command review lists them all.`);
    if (answer.rules && all.length === 0) more.append("Nothing to list with this choice of outcomes.");
  };

  const tally = () => {
    const cells = outcomes.map((o) => {
      const n = answer.counts[o.key];
      const cell = make("button", { type: "button", class: `cell ${o.key}`, "aria-pressed": String(o.shown) }, make("span", { class: "n" }, n.toLocaleString("en")), make("span", { class: "term" }, o.word));
      cell.onclick = () => {
        o.shown = !o.shown;
        cell.setAttribute("aria-pressed", String(o.shown));
        list();
      };
      return cell;
    });
    $("tally").replaceChildren(...cells);
  };

  const problem = (p) =>
    make(
      "li",
      {},
      p.place.line ? make("button", { type: "button", class: "place", onclick: () => go(p) }, `Line ${p.place.line}`) : undefined,
      " ",
      sentence(p.message),
      bench.hint(p.hint),
    );

  // trouble says why nothing was judged.
  const trouble = (title, text, ...more) => {
    $("trouble").replaceChildren(make("div", { class: "trouble" }, make("h3", {}, title), text ? make("p", {}, text) : undefined, ...more));
  };

  const troubles = () => {
    $("trouble").replaceChildren();
    if (answer.problems.length > 0) {
      const some = answer.problems.slice(0, 100);
      trouble("This design cannot be checked yet", "The document cannot be read, or contradicts itself.", make("ol", {}, ...some.map(problem)));
    } else if (answer.faults.length > 0) {
      trouble("The class's rule cannot be used yet", "Nothing was judged.", make("p", {}, make("button", { type: "button", onclick: () => bench.showFaults() }, bench.count(answer.faults.length, "fault") + " to mend")));
    } else if (answer.failure) {
      trouble("Nothing was judged", sentence(answer.failure) + (answer.hint ? ` ${sentence(answer.hint)}` : ""));
    }
  };

  // basis says how far the figures of the profile can be trusted.
  const basis = () => {
    const { checked, from_memory: memory, common_practice: practice } = answer.profile.figures ?? {};
    const total = checked + memory + practice;
    $("basis").textContent = answer.rules
      ? `${count(answer.subjects, "subject")} judged by ${count(answer.rules, "rule")}. Figures of profile ${answer.profile.id}: ${checked} of ${total} checked against published text, ${memory} from memory, ${practice} common practice. ${sentence(answer.profile.verify)}`
      : "";
  };

  const show = (a, jump) => {
    answer = a;
    go = jump;
    whole = false;
    const judged = a.rules > 0;
    $("tally").hidden = !judged;
    tally();
    troubles();
    basis();
    list();
  };

  const clear = () => {
    $("tally").hidden = true;
    $("list").replaceChildren();
    $("more").replaceChildren();
    $("basis").textContent = "";
  };

  // reveal shows a finding by its number, whatever is listed now.
  const reveal = (n) => {
    const f = answer?.items.find((i) => i.n === n);
    if (!f) return;
    const o = outcomes.find((each) => each.key === f.outcome);
    if (!o.shown || !document.getElementById(`finding-${n}`)) {
      o.shown = whole = true;
      tally();
      list();
    }
    const item = $(`finding-${n}`);
    for (const lit of document.querySelectorAll(".item.lit")) lit.classList.remove("lit");
    item.classList.add("lit");
    item.focus({ preventScroll: true });
    item.scrollIntoView({ block: "nearest" });
  };

  // marks are the marks of lines in the editor: the most urgent of each line.
  const marks = () => {
    const out = new Map();
    for (const p of answer.problems) {
      if (p.place.line && !out.has(p.place.line)) out.set(p.place.line, { kind: "error", text: p.message, go: () => go(p) });
    }
    for (const f of answer.items) {
      if (f.n && f.place.line && !out.has(f.place.line)) out.set(f.place.line, { kind: kind(f), text: `${f.n}: ${f.title}`, go: () => reveal(f.n) });
    }
    return out;
  };

  return { show, clear, trouble, reveal, marks };
})();
