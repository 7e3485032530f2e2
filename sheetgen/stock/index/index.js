"use strict";
(() => {
  const PAGE = 200;  // rows shown at once
  const table = document.getElementById("table"), body = table.tBodies[0];
  const heads = [...table.tHead.rows[0].cells];
  const rows = [...body.rows].map((row) => ({
    row, tags: row.dataset.tags.split(" "), words: row.textContent.toLocaleLowerCase(),
    keys: [...row.cells].map((cell) => cell.dataset.sort || cell.textContent),
  }));
  const search = document.getElementById("search"), found = document.getElementById("found");
  const only = [...document.querySelectorAll("input[name=only]")];
  const [before, after, where, turn] = ["before", "after", "where", "turn"].map((id) => document.getElementById(id));
  const compare = new Intl.Collator("en", {numeric: true}).compare;
  let shown = rows, first = 0;

  const show = () => {
    first = Math.min(first, Math.max(0, Math.ceil(shown.length / PAGE) - 1) * PAGE);
    const last = Math.min(first + PAGE, shown.length);
    body.replaceChildren(...shown.slice(first, last).map((one) => one.row));
    found.textContent = `${shown.length} of ${rows.length} dwellings`;
    where.textContent = shown.length ? `${first + 1} to ${last} of ${shown.length}` : "none";
    turn.hidden = shown.length <= PAGE;
    before.disabled = first === 0;
    after.disabled = last === shown.length;
  };
  const choose = () => {
    const words = search.value.toLocaleLowerCase().split(/\s+/).filter(Boolean);
    const wanted = only.filter((box) => box.checked).map((box) => box.value);
    shown = rows.filter((one) => wanted.every((tag) => one.tags.includes(tag)) &&
      words.every((word) => one.words.includes(word)));
    first = 0;
    show();
  };
  const sort = (column) => {
    const head = heads[column], down = head.getAttribute("aria-sort") === "ascending";
    heads.forEach((other) => other.removeAttribute("aria-sort"));
    head.setAttribute("aria-sort", down ? "descending" : "ascending");
    const number = head.dataset.number === "1", sign = down ? -1 : 1;
    rows.sort((a, b) => {
      const x = a.keys[column], y = b.keys[column];
      if (number) return sign * (Number(x) - Number(y));
      return (x === "") - (y === "") || sign * compare(x, y);  // what is not given comes last, either way
    });
    choose();
  };
  heads.forEach((head, column) => {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = head.textContent;
    button.addEventListener("click", () => sort(column));
    head.replaceChildren(button);
  });
  search.addEventListener("input", choose);
  only.forEach((box) => box.addEventListener("change", choose));
  before.addEventListener("click", () => { first -= PAGE; show(); });
  after.addEventListener("click", () => { first += PAGE; show(); });
  addEventListener("beforeprint", () => body.replaceChildren(...shown.map((one) => one.row)));
  addEventListener("afterprint", show);
  document.getElementById("ask").hidden = false;
  show();
})();
