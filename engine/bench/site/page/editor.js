"use strict";

// An editor is a textarea with the numbers of its lines and the marks of its
// findings beside it. A text that is too long to be edited is held: it is
// judged, and only its beginning is shown.
bench.Editor = class {
  constructor(root, { id, label, file, accept, changed, titled = true }) {
    Object.assign(this, { root, label, file, changed, held: null, marks: new Map(), lit: 0 });
    const { make } = bench;
    this.text = make("textarea", { id, spellcheck: false, autocomplete: "off", wrap: "off", "aria-label": label });
    this.text.setAttribute("autocapitalize", "off");
    this.gutter = make("div", { class: "gutter", "aria-hidden": "true" });
    this.name = make("span", { class: "file" });
    this.note = make("p", { class: "note", role: "status", hidden: true });
    const chooser = make("input", { type: "file", accept, hidden: true, tabIndex: -1, "aria-label": `Open ${label}` });
    const open = make("button", { type: "button", onclick: () => chooser.click() }, "Open");
    const save = make("button", { type: "button", onclick: () => this.save() }, "Save");
    open.setAttribute("aria-label", `Open a file: ${label}`);
    save.setAttribute("aria-label", `Save as a file: ${label}`);
    chooser.onchange = () => {
      if (chooser.files.length > 0) this.open(chooser.files[0]);
      chooser.value = "";
    };
    const head = make("div", { class: "head" }, make("h2", { class: titled ? "" : "hidden" }, label), this.name, open, save, chooser);
    root.classList.add("editor");
    root.append(head, this.note, make("div", { class: "sheet" }, this.gutter, this.text));
    this.listen();
    this.showName();
  }

  listen() {
    this.text.addEventListener("input", () => this.edited());
    this.text.addEventListener("scroll", () => this.number(), { passive: true });
    this.text.addEventListener("paste", (e) => this.pasted(e, e.clipboardData?.getData("text") ?? ""));
    this.text.addEventListener("drop", (e) => {
      const file = e.dataTransfer?.files?.[0];
      if (file) {
        e.preventDefault();
        this.open(file);
        return;
      }
      this.pasted(e, e.dataTransfer?.getData("text") ?? "");
    });
    this.gutter.addEventListener("click", (e) => {
      const n = e.target.closest?.("[data-line]")?.dataset.line;
      if (n && this.marks.has(+n)) this.marks.get(+n).go();
    });
    new ResizeObserver(() => this.number()).observe(this.text);
  }

  // pasted takes over what would make the text too long for the textarea.
  pasted(event, added) {
    const { selectionStart: from, selectionEnd: to, value } = this.text;
    if (this.held === null && value.length - (to - from) + added.length <= bench.limits.edit) return;
    event.preventDefault();
    this.set(this.held === null ? value.slice(0, from) + added + value.slice(to) : added, this.file);
    this.changed();
  }

  edited() {
    if (this.text.value.length > bench.limits.edit) this.set(this.text.value, this.file);
    this.lines = undefined;
    this.lit = 0;
    this.number();
    this.changed();
  }

  get value() {
    return this.held ?? this.text.value;
  }

  // set shows another text.
  set(text, file = this.file) {
    this.file = file;
    this.held = text.length > bench.limits.edit ? text : null;
    this.text.readOnly = this.held !== null;
    this.note.hidden = this.held === null;
    this.marks.clear();
    this.lines = undefined;
    this.lit = 0;
    if (this.held !== null) {
      const begin = text.slice(0, 8000);
      this.text.value = begin.slice(0, Math.max(begin.lastIndexOf("\n"), 0) || begin.length).slice(0, 8000);
      this.note.textContent = `${bench.bytes(text.length)} is too long to edit here. All of it is judged; only the beginning is shown. Open or choose another text to go on.`;
    } else {
      this.text.value = text;
    }
    this.text.scrollTop = 0;
    this.showName();
    this.number();
  }

  showName() {
    this.name.textContent = this.file;
  }

  async open(file) {
    if (file.size > 64e6) {
      this.note.hidden = false;
      this.note.textContent = `${file.name} has ${bench.bytes(file.size)}. At most 64 MB are opened here.`;
      return;
    }
    this.set(await file.text(), file.name);
    this.changed();
  }

  save() {
    const url = URL.createObjectURL(new Blob([this.value], { type: "text/plain;charset=utf-8" }));
    bench.make("a", { href: url, download: this.file }).click();
    setTimeout(() => URL.revokeObjectURL(url), 10_000);
  }

  // mark sets the marks of lines: a map of line to {kind, text, go}.
  mark(marks) {
    this.marks = marks;
    this.number();
  }

  starts() {
    if (this.lines === undefined) {
      this.lines = [0];
      const text = this.text.value;
      for (let i = text.indexOf("\n"); i >= 0; i = text.indexOf("\n", i + 1)) this.lines.push(i + 1);
    }
    return this.lines;
  }

  lineHeight() {
    return parseFloat(getComputedStyle(this.text).lineHeight);
  }

  // number writes the numbers of the lines that can be seen, and no others.
  number() {
    const height = this.lineHeight();
    if (!height || this.text.clientHeight === 0) return;
    const count = this.starts().length;
    const top = this.text.scrollTop;
    const pad = parseFloat(getComputedStyle(this.text).paddingTop);
    const first = Math.max(1, Math.floor((top - pad) / height) + 1);
    const last = Math.min(count, first + Math.ceil(this.text.clientHeight / height) + 1);
    const rows = [];
    for (let n = first; n <= last; n++) {
      const mark = this.marks.get(n);
      const row = bench.make("span", { class: `line ${mark ? `marked ${mark.kind}` : ""} ${n === this.lit ? "lit" : ""}`, title: mark?.text, data: { line: n } }, String(n));
      row.style.top = `${pad + (n - 1) * height - top}px`;
      rows.push(row);
    }
    this.gutter.style.width = `${String(count).length + 3}ch`;
    this.gutter.replaceChildren(...rows);
  }

  // go puts the cursor on a line and shows it.
  go(line, column = 1) {
    const starts = this.starts();
    const n = Math.min(Math.max(line, 1), starts.length);
    const from = starts[n - 1];
    const to = n < starts.length ? starts[n] - 1 : this.text.value.length;
    this.lit = n;
    this.text.focus({ preventScroll: true });
    this.text.setSelectionRange(Math.min(from + column - 1, to), to);
    this.text.scrollTop = Math.max(0, (n - 4) * this.lineHeight());
    this.text.scrollLeft = 0;
    this.number();
    const box = this.root.getBoundingClientRect();
    if (box.top < 0 || box.bottom > innerHeight) this.root.scrollIntoView({ block: "start" });
  }
};
