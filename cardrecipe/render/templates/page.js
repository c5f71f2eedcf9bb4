
(() => {
  "use strict";
  const key = document.body.dataset.storage;
  const boxes = [...document.querySelectorAll("input[data-tick]")];
  const load = () => {
    try {
      const kept = JSON.parse(localStorage.getItem(key));
      return kept && typeof kept === "object" ? kept : {};
    } catch { return {}; }
  };
  const state = load();
  const save = () => {
    try { localStorage.setItem(key, JSON.stringify(state)); } catch { /* private window: not kept */ }
  };
  const ticked = new Set(Array.isArray(state.ticked) ? state.ticked : []);
  for (const box of boxes) {
    box.checked = ticked.has(box.dataset.tick);
    box.addEventListener("change", () => {
      const tick = box.dataset.tick;
      if (box.checked) ticked.add(tick); else ticked.delete(tick);
      for (const twin of boxes) if (twin.dataset.tick === tick) twin.checked = box.checked;
      state.ticked = [...ticked];
      save();
    });
  }
  const group = document.querySelector(".switch");
  if (!group) return;
  const buttons = [...group.querySelectorAll("button")];
  const show = (unit) => {
    for (const button of buttons) button.setAttribute("aria-pressed", String(button.dataset.unit === unit));
    for (const part of document.querySelectorAll(".version")) part.hidden = part.dataset.unit !== unit;
    // A picture that says the same in both versions is in the page once: it comes along.
    for (const place of document.querySelectorAll(".version:not([hidden]) [data-picture]:empty")) {
      const name = CSS.escape(place.dataset.picture);
      const full = document.querySelector(`[hidden] [data-picture=${name}]:not(:empty)`);
      if (full) place.append(...full.childNodes);
    }
  };
  for (const button of buttons) {
    button.addEventListener("click", () => {
      show(button.dataset.unit);
      state.unit = button.dataset.unit;
      save();
    });
  }
  if (buttons.some((button) => button.dataset.unit === state.unit)) show(state.unit);
  group.hidden = false;
})();
