// Tables that compare can be put in another order: by a press on a heading, or, where a narrow
// screen shows a card for each row, from a list.
(() => {
  "use strict";

  const number = (row, at) => Number(row.cells[at].dataset.number ?? NaN);

  // Rows without a number stay last.
  const sorted = (rows, at, falling) => {
    const known = (row) => !Number.isNaN(number(row, at));
    return [...rows].sort((a, b) => known(b) - known(a)
      || (known(a) ? (falling ? -1 : 1) * (number(a, at) - number(b, at)) : 0));
  };

  const made = (name, properties, ...children) => {
    const element = Object.assign(document.createElement(name), properties);
    element.append(...children);
    return element;
  };

  for (const table of document.querySelectorAll(".compare table")) {
    const body = table.tBodies[0];
    const heads = [...table.tHead.rows[0].cells];
    const asGiven = [...body.rows];
    if (asGiven.length < 2) continue;

    const list = made("select", {}, made("option", { value: "", textContent: "as given" }));

    const order = (way) => {
      const [at, falling] = way ? way.split(",").map(Number) : [];
      heads.forEach((head) => head.removeAttribute("aria-sort"));
      if (way) heads[at].setAttribute("aria-sort", falling ? "descending" : "ascending");
      body.append(...(way ? sorted(asGiven, at, falling) : asGiven));
      list.value = way;
    };

    heads.forEach((head, at) => {
      const name = head.textContent.trim();
      if (!name) return;
      const button = made("button", { type: "button", className: "compare__sort" });
      button.append(...head.childNodes);
      head.append(button);
      button.addEventListener("click", () =>
        order(`${at},${head.getAttribute("aria-sort") === "descending" ? 0 : 1}`));
      list.append(
        made("option", { value: `${at},1`, textContent: `${name}, largest first` }),
        made("option", { value: `${at},0`, textContent: `${name}, smallest first` }),
      );
    });

    list.addEventListener("change", () => order(list.value));
    table.before(made("p", { className: "compare__order" }, made("label", {}, "Order: ", list)));
  }
})();
