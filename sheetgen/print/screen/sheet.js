"use strict";
// Looks up in the table what each switch setting does, and shows it. Reckons nothing.
(() => {
  const table = JSON.parse(document.getElementById("table").textContent);
  const all = (selector, root = document) => [...root.querySelectorAll(selector)];
  const coreNumber = new Map(table.cores.map((core, i) => [core[0], i]));
  const terminalNumber = new Map(table.terminals.map((terminal, i) => [terminal[0], i]));
  const stands = {};
  for (const name in table.switches) stands[name] = Object.keys(table.switches[name].positions)[0];
  let look = "found", chosen = null, told = null;

  const drawings = all("svg[data-drawing]");

  const rowOf = (group) => group.rows[group.switches.map((name) => stands[name]).join("\n")];

  function state() {
    const letters = new Array(table.terminals.length).fill(null), flow = new Set(), loads = {}, says = [];
    const rows = table.groups.map((group) => rowOf(group) || []);
    const shorted = new Set(rows.flatMap((row) => row[4] || [])), links = rows.flatMap((row) => row[5] || []);
    for (let before = -1; before !== shorted.size;) {
      before = shorted.size;
      for (const link of links) if (link.some((way) => shorted.has(way))) link.forEach((way) => shorted.add(way));
    }
    const out = (load) => (load[2] || []).some((way) => shorted.has(way));
    for (const [terminal, letter] of table.constant) letters[terminal] = letter;
    for (const group of table.groups) {
      const row = rowOf(group);
      if (!row) { says.push("This setting was not worked out: too many switches."); continue; }
      group.terminals.forEach((terminal, i) => { letters[terminal] = row[1][i]; });
      group.loads.forEach((name, i) => { loads[name] = out(row[0][i]) ? ["short", 0] : row[0][i]; });
      if (!row[0].some(out)) row[2].forEach((core) => flow.add(core));
    }
    return { letters, flow, loads };
  }

  const condition = (now, terminal) => table.conditions[now.letters[terminal]];
  const end = (core) => [3, 4].map((i) => core[i]).find((e) => typeof e === "number");
  const coreLive = (now, core) => { const e = end(core); return e !== undefined && condition(now, e)[1] === 1; };

  function show() {
    const now = state();
    for (const svg of drawings) {
      for (const element of all("[data-core]", svg)) {
        const i = coreNumber.get(element.dataset.core);
        element.classList.toggle("live", i !== undefined && coreLive(now, table.cores[i]));
        element.classList.toggle("flow", i !== undefined && now.flow.has(i));
      }
      for (const element of all("[data-terminal]:not([data-core])", svg)) {
        const i = terminalNumber.get(element.dataset.terminal);
        element.classList.toggle("live", i !== undefined && condition(now, i)[1] === 1);
      }
      for (const element of all("[data-moves]", svg)) {
        element.classList.toggle("away", stands[element.dataset.moves] !== element.dataset.position);
      }
      for (const element of all("[data-load]", svg)) {
        const load = now.loads[element.dataset.load];
        element.classList.toggle("lit", Boolean(load && (load[0] === "on" || load[0] === "dim")));
        element.classList.toggle("dim", Boolean(load && load[0] === "dim"));
      }
    }
    for (const button of all(".bar .switch")) {
      const own = table.switches[button.dataset.switch];
      button.querySelector(".stands").textContent = own.positions[stands[button.dataset.switch]];
    }
    showLoads(now);
    for (const row of all("tr[data-group]")) {
      const group = table.groups[row.dataset.group];
      const here = group.switches.map((name) => stands[name]).join("\n") === row.dataset.setting;
      if (here) row.setAttribute("aria-current", "true"); else row.removeAttribute("aria-current");
    }
    if (chosen) ask(chosen);
    document.body.dataset.ready = "yes";
  }

  function showLoads(now) {
    document.getElementById("loads").replaceChildren(...Object.keys(table.loads).map((name) => {
      const [what, share] = now.loads[name] || ["not worked out", 0];
      const item = make("li", `${table.loads[name].label}: ${what}${
        share && what !== "on" ? ` (${share.toFixed(2)} of the voltage)` : ""}`);
      item.dataset.load = name;
      item.dataset.state = what;
      item.className = share > 0 ? "lit" : "";
      return item;
    }));
  }

  function say(group) {
    const row = rowOf(group);
    told = group;
    document.getElementById("says").textContent = row ? (table.stories[look][row[3]] ?? table.stories.found[row[3]]) : "This setting was not worked out: too many switches.";
  }

  function operate(name) {
    const positions = Object.keys(table.switches[name].positions);
    stands[name] = positions[(positions.indexOf(stands[name]) + 1) % positions.length];
    show();
    const group = table.groups.find((g) => g.switches.includes(name));
    if (group) say(group);
  }

  // asking about a conductor or a terminal

  function make(tag, text) {
    const element = document.createElement(tag);
    if (text !== undefined) element.textContent = text;
    return element;
  }

  function facts(pairs) {
    const list = make("dl");
    for (const [term, words] of pairs) if (words) list.append(make("dt", term), make("dd", words));
    return list;
  }

  const place = (e) => typeof e === "number" ? `${table.terminals[e][1]} of ${table.terminals[e][2]}` : `nothing, in ${e}`;

  function ask(what) {
    chosen = what;
    const now = state(), box = document.getElementById("asked");
    let title, pairs;
    if (what.core !== undefined) {
      const core = table.cores[what.core], [name, colour, sleeves] = table.views[look][what.core], at = end(core);
      const is = at === undefined ? ["joined to nothing", 0, "nothing", ""] : condition(now, at);
      title = name;
      pairs = [["Role", core[2]], ["Colour", colour], ["Sleeve", sleeves], ["Goes", `from ${place(core[3])} to ${place(core[4])}`],
        ["Cable", core[1]], ["Now", is[0] + (now.flow.has(what.core) ? ", carries the lamp's current" : "")], ["A meter reads", is[2]], ["Fed by", is[3]]];
    } else {
      const terminal = table.terminals[what.terminal], is = condition(now, what.terminal);
      const landed = table.cores.filter((core) => core[3] === what.terminal || core[4] === what.terminal);
      title = `${terminal[1]} of ${terminal[2]}`;
      pairs = [["Now", is[0]], ["A meter reads", is[2]], ["Fed by", is[3]], ["Accessory", table.accessories[terminal[3]].kind],
        ["Conductors", landed.map((core) => table.views[look][coreNumber.get(core[0])][0]).join(", ") || "none"]];
    }
    box.replaceChildren(make("h3", title), facts(pairs));
    for (const element of all(".chosen")) element.classList.remove("chosen");
    const attribute = what.core !== undefined ? "core" : "terminal";
    const key = what.core !== undefined ? table.cores[what.core][0] : table.terminals[what.terminal][0];
    for (const element of all(`[data-${attribute}]`)) element.classList.toggle("chosen", element.dataset[attribute] === key && (attribute === "core" || !element.dataset.core));
  }

  function askAbout(target) {
    const element = target.closest("[data-core],[data-terminal]");
    if (!element) return;
    const core = coreNumber.get(element.dataset.core), terminal = terminalNumber.get(element.dataset.terminal);
    if (core !== undefined) ask({ core }); else if (terminal !== undefined) ask({ terminal });
  }

  // looks, rooms, sizes

  function wear(name) {
    look = name;
    document.documentElement.dataset.look = name;
    for (const button of all("button.core")) button.textContent = table.views[look][coreNumber.get(button.dataset.core)][0];
    const recoloured = document.getElementById("recoloured");
    recoloured.textContent = table.recoloured[look];
    recoloured.hidden = !table.recoloured[look];
    if (told) say(told);
    show();
  }

  function find(room) {
    for (const element of all(".found")) element.classList.remove("found");
    const names = Object.keys(table.accessories).filter((name) => room && table.accessories[name].room === room);
    for (const details of all(".list details")) details.open = names.includes(details.dataset.accessory);
    const frames = all(".wiring [data-role=enclosure]").filter((frame) => names.includes(frame.dataset.accessory));
    for (const frame of frames) frame.classList.add("found");
    if (frames.length) frames[0].scrollIntoView({ block: "center", inline: "center" });
  }

  let size = 1;
  function zoom(step) {
    size = Math.min(4, Math.max(0.5, size * (step > 0 ? 1.25 : 0.8)));
    document.documentElement.style.setProperty("--size", size);
  }

  document.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    if (button && button.dataset.switch) return operate(button.dataset.switch);
    if (button && button.dataset.zoom) return zoom(Number(button.dataset.zoom));
    askAbout(event.target);
  });
  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey || event.target.matches("select,input[type=text]")) return;
    const button = all(".bar .switch")[Number(event.key) - 1];
    if (event.key >= "1" && event.key <= "9" && button) { operate(button.dataset.switch); event.preventDefault(); }
  });
  for (const input of all("input[name=look]")) input.addEventListener("change", () => wear(input.value));
  document.getElementById("room").addEventListener("change", (event) => find(event.target.value));

  // Paper shows every switch in its first position, as the job sheet does.
  let kept = null;
  addEventListener("beforeprint", () => {
    kept = { ...stands };
    for (const name in stands) stands[name] = Object.keys(table.switches[name].positions)[0];
    show();
  });
  addEventListener("afterprint", () => { if (kept) Object.assign(stands, kept); show(); });

  show();
  if (table.groups.length) say(table.groups[0]);
})();
