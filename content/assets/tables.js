// Tables that compare can be put in another order: a press on a heading sorts by its column.
(() => {
  "use strict";

  const number = (row, at) => Number(row.cells[at].dataset.number ?? NaN);

  // Largest first, then smallest first; rows without a number stay last.
  const sort = (table, at, falling) => {
    const body = table.tBodies[0];
    const known = (row) => !Number.isNaN(number(row, at));
    [...body.rows]
      .sort((a, b) => known(b) - known(a)
        || (known(a) ? (falling ? -1 : 1) * (number(a, at) - number(b, at)) : 0))
      .forEach((row) => body.append(row));
  };

  for (const table of document.querySelectorAll(".compare table")) {
    const heads = [...table.tHead.rows[0].cells];
    heads.forEach((head, at) => {
      if (!head.textContent.trim() || table.tBodies[0].rows.length < 2) return;
      const button = document.createElement("button");
      button.type = "button";
      button.className = "compare__sort";
      button.append(...head.childNodes);
      head.append(button);
      button.addEventListener("click", () => {
        const falling = head.getAttribute("aria-sort") !== "descending";
        heads.forEach((other) => other.removeAttribute("aria-sort"));
        head.setAttribute("aria-sort", falling ? "descending" : "ascending");
        sort(table, at, falling);
      });
    });
  }
})();
