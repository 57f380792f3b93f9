// Small comforts; the pages read without them.
(() => {
  const wide = matchMedia("(min-width: 60em)").matches;
  if (wide) {
    for (const fold of document.querySelectorAll("details[data-short]")) fold.open = true;
  }

  // An address that points into a folded working opens it.
  const open = () => {
    const id = decodeURIComponent(location.hash.slice(1));
    const place = id && document.getElementById(id);
    const fold = place && place.closest("details");
    if (fold && !fold.open) {
      fold.open = true;
      place.scrollIntoView();
    }
  };
  addEventListener("hashchange", open);
  open();

  // The sign beside a title copies the address of its block.
  document.addEventListener("click", async (event) => {
    const own = event.target.closest("a[data-copy]");
    if (!own || !navigator.clipboard) return;
    try {
      await navigator.clipboard.writeText(own.href);
      const sign = own.textContent;
      own.textContent = "copied";
      setTimeout(() => { own.textContent = sign; }, 1500);
    } catch {
      // The link itself still works.
    }
  });
})();
