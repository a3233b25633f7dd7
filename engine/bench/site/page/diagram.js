"use strict";

// bench.diagram shows the riser diagram: marks lead to findings, findings to
// elements.
bench.diagram = (() => {
  const { $ } = bench;
  let width = 0;
  let height = 0;
  let fitted = false;

  const size = () => {
    const svg = $("riser").querySelector("svg");
    if (!svg) return;
    svg.setAttribute("width", fitted ? "100%" : width);
    if (fitted) svg.removeAttribute("height");
    else svg.setAttribute("height", height);
  };

  const draw = (text, why) => {
    const drawn = text !== "";
    $("riser").hidden = $("legend").hidden = $("fit").hidden = !drawn;
    $("no-riser").hidden = drawn;
    $("no-riser").textContent = why;
    $("riser").replaceChildren();
    if (!drawn) return;
    const svg = document.importNode(new DOMParser().parseFromString(text, "image/svg+xml").documentElement, true);
    svg.setAttribute("role", "group");
    [, , width, height] = svg.getAttribute("viewBox").split(" ").map(Number);
    $("riser").append(svg);
    size();
  };

  const show = (id) => {
    const element = document.getElementById(id);
    if (!element) return;
    for (const lit of $("riser").querySelectorAll(".lit")) lit.classList.remove("lit");
    element.classList.add("lit");
    element.scrollIntoView({ block: "center", inline: "center" });
    $("riser").focus({ preventScroll: true });
  };

  $("riser").addEventListener("click", (e) => {
    const n = e.target.closest?.("a")?.getAttribute("href")?.match(/^#finding-(\d+)$/)?.[1];
    if (!n) return;
    e.preventDefault();
    bench.findings.reveal(Number(n));
  });
  $("fit").addEventListener("click", () => {
    fitted = !fitted;
    $("fit").setAttribute("aria-pressed", String(fitted));
    size();
  });

  return { draw, show };
})();
