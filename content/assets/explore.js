// Explore panels. Each carries its formulas as trees, which are walked here; nothing is run as code.
(() => {
  "use strict";

  const stack = (reduce) => (...of) => of.reduce(reduce);
  const number = (truth) => (truth ? 1 : 0);
  // What rounding leaves of nought is nought, as in the build.
  const difference = (a, b) =>
    (Math.abs(a - b) <= 8 * Number.EPSILON * Math.abs(a) ? 0 : a - b);
  const APPLY = {
    "+": (a, b) => a + b,
    "-": (a, b) => (b === undefined ? -a : difference(a, b)),
    "*": (a, b) => a * b,
    "/": (a, b) => a / b,
    "**": (a, b) => a ** b,
    "<": (a, b) => number(a < b),
    "<=": (a, b) => number(a <= b),
    ">": (a, b) => number(a > b),
    ">=": (a, b) => number(a >= b),
    "==": (a, b) => number(a === b),
    "!=": (a, b) => number(a !== b),
    sqrt: Math.sqrt, exp: Math.exp, log: Math.log, log10: Math.log10, log2: Math.log2,
    sin: Math.sin, cos: Math.cos, tan: Math.tan,
    asin: Math.asin, acos: Math.acos, atan: Math.atan,
    sinh: Math.sinh, cosh: Math.cosh, tanh: Math.tanh, asinh: Math.asinh,
    floor: Math.floor, ceil: Math.ceil, abs: Math.abs,
    round: (a) => Math.floor(a + 0.5),
    min: Math.min, max: Math.max,
    sum: stack((a, b) => a + b),
    mean: (...of) => of.reduce((a, b) => a + b) / of.length,
    where: (condition, a, b) => (condition ? a : b),
  };

  // What a claim compares, before its unit: the same four ways as in the build.
  const COMPARE = {
    itself: (a, offset) => a - offset,
    ratio: (a, b) => a / b,
    difference: (a, b) => a - b,
    "relative change": (a, b) => (a - b) / b,
  };

  const value = (tree, known) => {
    if (typeof tree === "number") return tree;
    if (typeof tree === "string") return known.get(tree);
    return APPLY[tree[0]](...tree.slice(1).map((part) => value(part, known)));
  };

  // Polynomials through the nearest settings, a straight line or a cubic along each axis.
  const between = (grid, settings) => {
    const steps = [...Array(grid.order + 1).keys()];
    const along = (axis) => {
      const at = (settings.get(axis.slider) - axis.low) / (axis.high - axis.low)
        * (grid.count - 1);
      const first = Math.min(Math.max(Math.floor(at) - Math.floor(grid.order / 2), 0),
        grid.count - 1 - grid.order);
      return steps.map((step) => [first + step, steps.reduce((weight, other) =>
        (other === step ? weight : weight * (at - first - other) / (step - other)), 1)]);
    };
    let corners = [[0, 1]];
    for (const axis of grid.axes) {
      const weights = along(axis);
      corners = corners.flatMap(([place, weight]) =>
        weights.map(([step, part]) => [place * grid.count + step, weight * part]));
    }
    return corners.reduce((sum, [place, weight]) => {
      const held = grid.values[place];
      return weight === 0 ? sum : sum + weight * (held === null ? NaN : held);
    }, 0);
  };

  // All values in SI base units at the given settings, which are in the sliders' own units.
  const compute = (panel, settings) => {
    const known = new Map(Object.entries(panel.given));
    const own = new Map();
    for (const slider of panel.sliders) {
      own.set(slider.node, settings[slider.name]);
      known.set(slider.node, slider.offset + slider.factor * settings[slider.name]);
    }
    for (const grid of panel.grids) known.set(grid.id, between(grid, own));
    for (const [id, tree] of panel.steps) known.set(id, value(tree, known));
    return known;
  };

  const grouped = (text) => {
    const [whole, rest] = text.split(".");
    const parted = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, "\u202f") : whole;
    return (rest ? `${parted}.${rest}` : parted).replace("-", "\u2212");
  };

  // To the place that the stated uncertainty supports, and never to fewer than two digits.
  const digits = (number, place) => {
    if (!Number.isFinite(number)) return "no value";
    const first = number === 0 ? place : Math.floor(Math.log10(Math.abs(number)));
    const last = Math.min(place, first - 1);
    if (first < -5 || first > 15) return number.toExponential(2).replace("-", "\u2212");
    const step = 10 ** last;
    return grouped(last < 0 ? number.toFixed(Math.min(-last, 20))
      : String(Math.round(number / step) * step));
  };

  const COUNTED = ["year", "month", "week", "day", "cycle"];
  const withUnit = (text, unit) =>
    (unit ? `${text}\u00a0${unit}${COUNTED.includes(unit) && text !== "1" ? "s" : ""}` : text);

  const start = (section) => {
    const panel = JSON.parse(section.querySelector("script").textContent);
    const inputs = [...section.querySelectorAll("input")];
    const reset = section.querySelector(".explore__reset");
    const status = section.querySelector(".explore__status");
    const spoken = section.querySelector(".explore__spoken");
    const link = section.querySelector(".explore__link");
    const rests = inputs.map((input) => input.value);
    const decimals = panel.sliders.map((slider) =>
      Math.max(0, -Math.floor(Math.log10(slider.step) + 1e-9)));

    // A slider at rest has exactly its stated value, which may lie between two of its steps.
    const settings = () => Object.fromEntries(panel.sliders.map((slider, at) =>
      [slider.name, moved(at) ? Number(inputs[at].value) : slider.stated]));
    const moved = (at) => inputs[at].value !== rests[at];
    const shown = (at) => (moved(at)
      ? withUnit(grouped(Number(inputs[at].value).toFixed(decimals[at])), panel.sliders[at].unit)
      : panel.sliders[at].text);

    const address = () => {
      const parts = panel.sliders.flatMap((slider, at) =>
        (moved(at) ? [`${slider.name}=${inputs[at].value}`] : []));
      return `#${section.id}${parts.length ? `:${parts.join(";")}` : ""}`;
    };

    const results = (known, any) => {
      for (const each of panel.show) {
        const output = section.querySelector(`[data-of="${each.id}"]`);
        const found = (known.get(each.node) - each.offset) / each.factor;
        const near = digits(found, each.place) === digits(each.stated, each.place);
        const sign = near || !Number.isFinite(found) ? "" : found > each.stated ? "▲" : "▼";
        output.dataset.value = String(found);
        output.textContent = any ? withUnit(digits(found, each.place), each.unit) : "";
        output.dataset.way = any ? sign : "";
        const dot = output.closest("tr").querySelector(".explore__dot");
        const share = (found - each.span[0]) / (each.span[1] - each.span[0]);
        dot.hidden = !any || !Number.isFinite(share);
        if (!dot.hidden) dot.style.left = `${100 * Math.min(1, Math.max(0, share))}%`;
      }
    };

    // The first result over one slider: as stated dashed, with the other sliders as moved drawn out.
    const picture = section.querySelector(".explore__curve");
    let { over } = panel;
    const curve = (any) => {
      const slider = panel.sliders[over];
      const each = panel.show[0];
      const [low, high] = [Number(inputs[over].min), Number(inputs[over].max)];
      const [bottom, top] = each.span;
      const found = (base, x) => {
        const known = compute(panel, { ...base, [slider.name]: x });
        return (known.get(each.node) - each.offset) / each.factor;
      };
      const place = (x, y) => [4 + 336 * (x - low) / (high - low),
        132 - 128 * (y - bottom) / (top - bottom)].map((at) => at.toFixed(1));
      const path = (base) => {
        let pen = "M";
        let drawn = "";
        for (let step = 0; step <= 60; step += 1) {
          const x = low + (high - low) * step / 60;
          const y = found(base, x);
          if (y >= bottom && y <= top) {
            drawn += `${pen}${place(x, y)}`;
            pen = "L";
          } else pen = "M";
        }
        return drawn;
      };
      const part = (name) => picture.querySelector(`.explore__${name}`);
      const now = settings();
      const rest = Object.fromEntries(panel.sliders.map((one) => [one.name, one.stated]));
      const put = (name, base) => {
        const y = found(base, base[slider.name]);
        const seen = y >= bottom && y <= top;
        part(name).style.display = seen ? "" : "none";
        if (seen) part(name).setAttribute("transform", `translate(${place(base[slider.name], y)})`);
      };
      part("before").setAttribute("d", path(rest));
      part("after").setAttribute("d", any ? path(now) : "");
      put("ring", rest);
      put("here", now);
      if (!any) part("here").style.display = "none";
      picture.querySelector("p").textContent = `${each.label} over ${slider.label}`;
      const words = [withUnit(digits(top, each.place), each.unit), digits(bottom, each.place),
        section.querySelectorAll(".explore__ends")[over].firstChild.textContent,
        section.querySelectorAll(".explore__ends")[over].lastChild.textContent];
      picture.querySelectorAll("text").forEach((text, at) => { text.textContent = words[at]; });
    };

    const claims = (known, any) => {
      for (const each of panel.claims) {
        const output = section.querySelector(`[data-claim="${each.id}"]`);
        const found = COMPARE[each.way](...each.nodes.map((node) => known.get(node)), each.offset)
          / each.factor;
        const holds = found >= (each.low ?? -Infinity) && found <= (each.high ?? Infinity);
        const says = Number.isFinite(found) ? (holds ? "would hold" : "would not hold") : "no value";
        output.dataset.holds = String(holds);
        output.textContent = any ? says : "";
      }
    };

    const tell = (known, any) => {
      if (!any) {
        status.textContent = "All values are as stated. Move a slider to ask what would be.";
        return;
      }
      const told = panel.sliders.flatMap((slider, at) =>
        (moved(at) ? [`${slider.label} ${shown(at)} (stated ${slider.text})`] : []));
      const outside = panel.guards.filter((guard) => !value(guard.tree, known));
      const limits = outside.length
        ? ` Outside what a method covers: ${outside.map((guard) => guard.text).join("; ")}.` : "";
      status.textContent = `Moved: ${told.join("; ")}. What stands under Moved is no longer what`
        + ` the site states, and carries no uncertainty.${limits}`;
      status.dataset.outside = String(outside.length);
    };

    // One short sentence once the sliders rest, rather than one for every step.
    let waiting = 0;
    const speak = (any) => {
      clearTimeout(waiting);
      waiting = setTimeout(() => {
        const told = [...section.querySelectorAll("[data-of]")].map((output) =>
          `${output.closest("tr").querySelector("th").textContent} ${output.textContent}`);
        spoken.textContent = any ? told.join("; ") : "As stated";
      }, 700);
    };

    const update = () => {
      const any = inputs.some((_, at) => moved(at));
      const known = compute(panel, settings());
      inputs.forEach((input, at) => {
        const output = input.parentElement.querySelector(".explore__value");
        output.textContent = shown(at);
        input.setAttribute("aria-valuetext", shown(at) + (moved(at) ? "" : ", as stated"));
        input.parentElement.classList.toggle("explore__slider--moved", moved(at));
      });
      section.classList.toggle("explore--moved", any);
      reset.disabled = !any;
      link.href = address();
      results(known, any);
      curve(any);
      claims(known, any);
      tell(known, any);
    };

    const follow = (event) => {
      over = Math.max(0, inputs.indexOf(event.target));
      update();
      speak(inputs.some((_, at) => moved(at)));
    };

    const put = (wanted) => {
      inputs.forEach((input, at) => {
        const given = wanted.get(panel.sliders[at].name);
        input.value = given === undefined || given === "" || Number.isNaN(Number(given))
          ? rests[at] : given;
      });
      update();
    };

    const read = () => {
      const [id, rest = ""] = decodeURIComponent(location.hash.slice(1)).split(/:(.*)/s);
      if (id !== section.id || !rest) return;
      put(new Map(rest.split(";").map((part) => part.split("="))));
      section.scrollIntoView();
    };

    section.querySelector(".explore__inputs").hidden = true;
    for (const part of section.querySelectorAll(".explore__controls, .explore__new, .explore__curve")) {
      part.hidden = false;
    }
    section.addEventListener("input", follow);
    section.addEventListener("change", () => history.replaceState(null, "", address()));
    reset.addEventListener("click", () => {
      put(new Map());
      speak(false);
      history.replaceState(null, "", address());
      inputs[0].focus();
    });
    addEventListener("hashchange", read);
    update();
    read();
  };

  document.querySelectorAll("section.explore").forEach((section) => {
    if (section.querySelector("script")) start(section);
  });
})();
