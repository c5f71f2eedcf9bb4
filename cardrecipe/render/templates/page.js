(() => {
"use strict";
const all = (query, within = document) => [...within.querySelectorAll(query)];
const one = (query, within = document) => within.querySelector(query);
// Not every browser sets a fraction as one by itself: each is marked, and it alone.
const withFractions = (text) => text.split(/(\d+\u2044\d+)/).map((part) => {
  if (!part.includes("\u2044")) return part;
  const fraction = document.createElement("span");
  fraction.className = "fr";
  fraction.append(part);
  return fraction;
});
const made = (tag, text = "", name = "") => {
  const it = document.createElement(tag);
  it.append(...withFractions(text));
  it.className = name;
  return it;
};

// What is remembered, for this sheet alone; where nothing may be kept the page works all the same.
const key = document.body.dataset.storage;
const state = (() => {
  try {
    const kept = JSON.parse(localStorage.getItem(key));
    return kept && typeof kept === "object" && !Array.isArray(kept) ? kept : {};
  } catch { return {}; }
})();
const ticked = new Set(Array.isArray(state.ticked) ? state.ticked : []);
const save = () => {
  state.ticked = [...ticked];
  try { localStorage.setItem(key, JSON.stringify(state)); } catch { /* a private window */ }
};
const status = one("[role=status]");
const say = (text) => { status.textContent = text; };

// Boxes, and the steps that they finish.
const version = () => one(".version:not([hidden])");
const steps = () => all("[data-step]", version());
const numberOf = (step) => Number(step.dataset.step);
const titleOf = (step) => one("h3 > span + span", step).textContent;
const isDone = (step) => ticked.has(`step/${step.dataset.step}`);
const current = () => {
  const known = steps();
  return known.find((step) => numberOf(step) === state.step) || known.find((step) => !isDone(step)) || known[0];
};
const again = () => all("[data-again]");
const mark = () => {
  for (const box of all("[data-tick]")) box.checked = ticked.has(box.dataset.tick);
  const now = current();
  for (const step of all("[data-step]")) {
    step.classList.toggle("done", isDone(step));
    if (step === now) step.setAttribute("aria-current", "step"); else step.removeAttribute("aria-current");
  }
  document.documentElement.classList.toggle("one", state.one === true);
  for (const box of all("[data-one]")) box.checked = state.one === true;
  if (!now) return;
  for (const caution of all("[data-before]")) {
    caution.classList.toggle("due", caution.dataset.before === now.dataset.step);
  }
  const known = steps(), at = known.indexOf(now), bar = one(".walk", version());
  const words = `Step ${now.dataset.step} of ${known.length}: ${titleOf(now)}`;
  const link = one("[data-now]", bar);
  link.replaceChildren(...made("a", words).childNodes);
  link.hash = now.id;
  one("[data-done]", bar).textContent = isDone(now) ? "Not done" : "Done";
  one("[data-go='-1']", bar).disabled = at === 0;
  one("[data-go='1']", bar).disabled = at === known.length - 1;
};
const isSeen = (step) => {
  const box = step.getBoundingClientRect();
  return box.height > 0 && box.bottom > 80 && box.top < innerHeight - 120;
};
const bring = (step) => {
  const isTall = step.offsetHeight > innerHeight - 160;
  step.scrollIntoView({ block: isTall || state.one ? "start" : "center" });
};
const goTo = (step) => {
  if (!step) return;
  state.step = numberOf(step);
  save();
  mark();
  bring(step);
  say(one("[data-now]", version()).textContent);
};
const move = (by) => {
  const known = steps(), now = current();
  // Away from the steps, a key first brings back the one that was left.
  goTo(now && isSeen(now) ? known[known.indexOf(now) + by] : now);
};
const finish = (step, hadFocus) => {
  const known = steps(), from = known.indexOf(step);
  const next = [...known.slice(from), ...known].find((each) => !isDone(each));
  goTo(next || step);
  if (!next) say("All steps are done.");
  if (hadFocus && state.one) one("[data-tick]", next || step).focus({ preventScroll: true });
};
let before = null;
const changed = (box) => {
  const tick = box.dataset.tick, hadFocus = box === document.activeElement;
  if (box.checked) ticked.add(tick); else ticked.delete(tick);
  before = null;
  for (const button of again()) button.textContent = "Start again";
  save();
  mark();
  const step = box.closest("[data-step]");
  if (step && box.checked) finish(step, hadFocus); else if (step) goTo(step);
};
const startAgain = () => {
  const kept = before || { ticked: [], step: 1 };
  before = before ? null : { ticked: [...ticked], step: state.step };
  ticked.clear();
  for (const tick of kept.ticked) ticked.add(tick);
  state.step = kept.step;
  save();
  mark();
  for (const button of again()) button.textContent = before ? "Bring the ticks back" : "Start again";
  say(before ? "Every tick is taken away." : "The ticks are back.");
};

// A lit piece: where it is drawn, the steps that use it, its size and the sum behind it.
const told = one(".told"), name = one("#told-name"), words = one(".told-all");
let lit = null, opener = null;
const sumOf = (title, lines) => lines.length ? [
  made("h3", title),
  lines.reduce((list, [depth, text, because, line]) => {
    const item = made("li", text, `d${Math.min(depth, 3)}`);
    item.append(" ", made("span", line ? `${because}, line ${line}` : because, "quiet small"));
    list.append(item);
    return list;
  }, made("ul")),
] : [];
const stepsOf = (using) => {
  if (!using.length) return [];
  const list = made("ul");
  for (const step of using) {
    const item = made("li"), link = made("a", `${step.dataset.step} ${titleOf(step)}`);
    link.href = `#${step.id}`;
    item.append(link);
    list.append(item);
  }
  return [made("h3", "Steps with it"), list];
};
const putOut = () => {
  if (lit === null) return;
  for (const each of all(".lit")) each.classList.remove("lit");
  for (const button of all("td [aria-pressed=true]")) button.setAttribute("aria-pressed", "false");
  const hadFocus = told.contains(document.activeElement);
  told.hidden = true;
  document.documentElement.classList.remove("opened");
  if (hadFocus && opener && opener.isConnected) opener.focus({ preventScroll: true });
  lit = opener = null;
};
const light = (piece, from) => {
  putOut();
  lit = piece;
  opener = from;
  const here = version(), button = all("td button", here).find((each) => each.dataset.piece === piece);
  const line = button && button.dataset.line;
  for (const drawn of all("svg [data-piece]", here)) {
    if (drawn.dataset.piece !== piece) continue;
    drawn.classList.add("lit");
    if (line) drawn.dataset.line = line;
  }
  const using = steps().filter((step) => step.dataset.pieces.split(" ").includes(piece));
  for (const step of using) step.classList.add("lit");
  name.textContent = button ? button.textContent : piece.replaceAll("-", " ");
  const [width, height] = (sums[here.dataset.unit] || {})[piece] || [[], []];
  words.replaceChildren();
  if (button) {
    const row = button.closest("tr");
    row.classList.add("lit");
    button.setAttribute("aria-pressed", "true");
    words.append(one(".sizes", row).cloneNode(true));
  }
  words.append(...stepsOf(using));
  words.append(...sumOf("How its width comes about", width), ...sumOf("How its height comes about", height));
  told.hidden = false;
  told.scrollTop = 0;
  document.documentElement.classList.add("opened");
  name.focus({ preventScroll: true });
  document.dispatchEvent(new CustomEvent("cardrecipe:piece", { detail: { piece, line: Number(line) || 0 } }));
};
// By what a tick is remembered: the step, the piece, the thing to have at hand, the setting of a sheet.
const tickOf = (box) => {
  const near = (query) => box.closest(query), place = (it) => [...it.parentNode.children].indexOf(it);
  if (near("[data-step]")) return `step/${near("[data-step]").dataset.step}`;
  if (near("tr")) return `cut/${one("[data-piece]", near("tr")).dataset.piece}/${one("th", near("tbody")).textContent}`;
  if (near(".settings")) return `layout/${place(near("article"))}/${place(near("li"))}`;
  // What stands behind a comma is a weight or a thickness, another one in the other version.
  return `supply/${one("h3", near(".group")).textContent}/${one("span", near("label")).textContent.split(",")[0]}`;
};
// What only a script needs is made here: keys of ticks, marked fractions, names of drawn pieces, buttons.
const ready = (within) => {
  for (const box of all(".version [type=checkbox]:not([data-one])", within)) box.dataset.tick ||= tickOf(box);
  const texts = document.createTreeWalker(within, NodeFilter.SHOW_TEXT), found = [];
  while (texts.nextNode()) found.push(texts.currentNode);
  for (const text of found) {
    const isHtml = text.parentNode instanceof HTMLElement && !text.parentNode.matches("script, style");
    if (isHtml && text.data.includes("\u2044")) text.replaceWith(...withFractions(text.data));
  }
  for (const drawn of all("[data-p]", within)) drawn.dataset.piece = unpacked.pieces[drawn.dataset.p];
  for (const place of all("td [data-piece]", within)) {
    const button = made("button", place.textContent);
    button.type = "button";
    Object.assign(button.dataset, place.dataset);
    button.setAttribute("aria-pressed", "false");
    place.replaceWith(button);
  }
};

// The two versions.
const units = one(".switch");
const show = (unit) => {
  putOut();
  for (const button of all("button", units)) {
    button.setAttribute("aria-pressed", String(button.dataset.unit === unit));
  }
  for (const part of all(".version")) part.hidden = part.dataset.unit !== unit;
  // A picture that says the same in both versions is in the page once: it comes along.
  for (const place of all("[data-picture]:empty", version())) {
    const full = one(`[hidden] [data-picture="${CSS.escape(place.dataset.picture)}"]:not(:empty)`);
    if (full) place.append(...full.childNodes);
  }
  mark();
};
const unpacked = one("#packed").sheet;
const sums = unpacked.sums;

document.addEventListener("change", ({ target }) => {
  if (target.matches("[data-tick]")) changed(target);
  if (target.matches("[data-one]")) {
    state.one = target.checked;
    save();
    mark();
    bring(current());
  }
});
document.addEventListener("click", ({ target }) => {
  const piece = target.closest(".picture [data-piece], .folds [data-piece], td button");
  if (piece && piece.dataset.piece === lit) putOut();
  else if (piece) light(piece.dataset.piece, piece);
  const link = target.closest(".told a");
  if (link) {
    told.hidden = true;
    goTo(one(link.hash));
  }
  const button = target.closest("button");
  if (!button) return;
  if (button.dataset.go) goTo(steps()[steps().indexOf(current()) + Number(button.dataset.go)]);
  if ("done" in button.dataset) one("[data-tick]", current()).click();
  if ("again" in button.dataset) startAgain();
  if ("close" in button.dataset) putOut();
  if (button.dataset.unit) {
    state.unit = button.dataset.unit;
    save();
    show(state.unit);
  }
});
const needsArrows = (target) => {
  const own = target.closest("input:not([type=checkbox]), select, textarea, [contenteditable], [role=slider]");
  const moved = target.closest(".wide, .scroll");
  return own || (moved && moved.scrollWidth > moved.clientWidth);
};
document.addEventListener("keydown", (event) => {
  if (event.defaultPrevented || event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
  if (event.key === "Escape") putOut();
  const by = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
  if (!by || needsArrows(event.target)) return;
  event.preventDefault();
  move(by);
});
document.documentElement.classList.add("script");
ready(document);
const folding = one("[data-picture=folding-view]");
if (folding) folding.innerHTML = unpacked.folding;
if (unpacked.other) {
  const other = document.createElement("template");
  other.innerHTML = unpacked.other;
  ready(other.content);
  one("main").append(other.content);
  units.hidden = false;
}
if (units && all("button", units).some((button) => button.dataset.unit === state.unit)) show(state.unit);
mark();
})();
