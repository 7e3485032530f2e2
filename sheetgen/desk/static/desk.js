"use strict";
// What the server cannot do for the page: keep what a hand is at while the page changes under it, and keys.
(() => {
  // While the page is made anew, the field that is being written in and what was folded open stay as they are.
  Idiomorph.defaults.ignoreActiveValue = true;
  // So does what was typed into a form that is not sent yet.
  Idiomorph.defaults.callbacks.beforeNodeMorphed = (node) => !(node.dataset && node.dataset.typed);
  document.addEventListener("input", (event) => { if (event.target.closest("form")) event.target.dataset.typed = "yes"; });
  document.body.addEventListener("htmx:beforeRequest", (event) => {
    if (event.target.matches("form")) for (const field of event.target.elements) delete field.dataset.typed;
  });
  Idiomorph.defaults.callbacks.beforeAttributeUpdated = (name, node, how) => !(name === "open" && how === "remove");

  const press = (id) => { const button = document.getElementById(id); if (button) button.click(); };

  document.addEventListener("keydown", (event) => {
    const typing = event.target.matches("input:not([type=radio]), textarea, select");
    if ((event.ctrlKey || event.metaKey) && !event.altKey) {
      const key = event.key.toLowerCase();
      const does = key === "s" ? "save" : typing ? "" : key === "y" || (key === "z" && event.shiftKey) ? "redo" : key === "z" ? "undo" : "";
      if (does) { event.preventDefault(); press(does); }
      return;
    }
    if (event.altKey || typing) return;
    const terminal = event.target.closest(".terminal");
    const step = { ArrowDown: 1, ArrowRight: 1, ArrowUp: -1, ArrowLeft: -1 }[event.key];
    if (terminal && step) {
      const all = [...document.querySelectorAll("#hand .terminal")];
      const next = all[(all.indexOf(terminal) + step + all.length) % all.length];
      next.focus();
      event.preventDefault();
    }
  });

  // A form whose thing was added is empty again, ready for the next.
  document.body.addEventListener("desk-added", (event) => {
    const at = { "add accessory": ["new-accessory", "new-kind"], "add cable": ["new-cable", ""], "add way": ["new-way", "new-way-number"], "add circuit": ["new-circuit", ""] }[event.detail.does];
    if (!at) return;
    const form = document.getElementById(at[0]);
    if (form) form.reset();
    if (at[1]) document.getElementById(at[1]).focus();
    else if (event.detail.does === "add cable") {
      const first = document.querySelector("#hand [name=chosen]:checked");
      if (first) { first.focus({ preventScroll: true }); document.getElementById("hand").scrollIntoView({ block: "nearest" }); }
    }
  });

  // What was taken in hand comes into sight.
  let taken = false;
  document.addEventListener("click", (event) => { taken = Boolean(event.target.closest(".thing")); });
  document.body.addEventListener("htmx:afterSwap", (event) => {
    if (!taken || event.detail.target.id !== "desk") return;
    taken = false;
    const hand = document.getElementById("hand");
    if (hand && hand.getBoundingClientRect().top > innerHeight / 2) hand.scrollIntoView({ block: "start" });
  });

  // A problem leads to its line.
  document.addEventListener("click", (event) => {
    const problem = event.target.closest("[data-line]");
    if (!problem) return;
    const line = Number(problem.dataset.line), text = document.getElementById("text");
    document.getElementById("text-fold").open = true;
    const before = text.value.split("\n").slice(0, Math.max(0, line - 1)).join("\n").length + (line > 1 ? 1 : 0);
    const at = before + Math.max(0, Number(problem.dataset.column) - 1);
    text.focus();
    text.setSelectionRange(at, at);
    text.scrollTop = Math.max(0, (line - 4)) * (text.scrollHeight / text.value.split("\n").length);
  });
  document.addEventListener("scroll", (event) => {
    if (event.target.id === "text") document.querySelector(".gutter").scrollTop = event.target.scrollTop;
  }, true);

  // A link that looks like a button works by the space bar too.
  document.addEventListener("keydown", (event) => {
    if (event.key === " " && event.target.matches("a.button")) { event.preventDefault(); event.target.click(); }
  });

  const said = (words) => {
    const place = document.getElementById("mistake");
    if (!place) return;
    const line = document.createElement("p");
    line.className = "mistake";
    line.textContent = words;
    place.replaceChildren(line);
  };
  document.body.addEventListener("htmx:sendError", () => said("The desk does not answer: it was stopped. Start it again; what was written is kept."));
  document.body.addEventListener("htmx:responseError", (event) => said(event.detail.xhr.status === 413 ? "That is more than a description may hold." : "The desk could not do that. Load the page again; what was written is kept."));
  document.body.dataset.ready = "yes";
})();
