(() => {
"use strict";
const all = (query) => [...document.querySelectorAll(query)];
// What is ticked is remembered for this class alone; where nothing may be kept the page works all the same.
const key = document.body.dataset.storage;
const kept = (() => {
  try {
    const found = JSON.parse(localStorage.getItem(key));
    return Array.isArray(found) ? found : [];
  } catch { return []; }
})();
const boxes = all("[data-tick]"), status = document.querySelector("[role=status]");
const again = document.querySelector("[data-again]");
let before = null;
const ticked = () => boxes.filter((box) => box.checked).map((box) => box.dataset.tick);
const show = (ticks) => {
  const known = new Set(ticks);
  for (const box of boxes) box.checked = known.has(box.dataset.tick);
};
const save = () => {
  try { localStorage.setItem(key, JSON.stringify(ticked())); } catch { /* a private window */ }
};
const named = () => { again.textContent = before ? "Bring the ticks back" : "Take all ticks away"; };
document.addEventListener("change", ({ target }) => {
  if (!target.matches("[data-tick]")) return;
  before = null;
  named();
  save();
});
again.addEventListener("click", () => {
  const back = before;
  before = back ? null : ticked();
  show(back || []);
  save();
  named();
  status.textContent = back ? "The ticks are back." : "Every tick is taken away.";
});
// Not every browser sets a fraction as one by itself: each is marked, and it alone.
const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), found = [];
while (texts.nextNode()) found.push(texts.currentNode);
for (const text of found) {
  const isHtml = text.parentNode instanceof HTMLElement && !text.parentNode.matches("script, style");
  if (!isHtml || !text.data.includes("\u2044")) continue;
  text.replaceWith(...text.data.split(/(\d+\u2044\d+)/).map((part) => {
    if (!part.includes("\u2044")) return part;
    const fraction = document.createElement("span");
    fraction.className = "fr";
    fraction.append(part);
    return fraction;
  }));
}
show(kept);
document.querySelector(".ticking").hidden = false;
document.documentElement.classList.add("script");
})();
