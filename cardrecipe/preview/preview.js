
(() => {
  "use strict";
  const own = document.currentScript.dataset.page;
  const KEPT = "cardrecipe preview";

  // ---- what was open before the page was made anew ----

  // Ticks and units are remembered by the page itself, by the title of the card, which may change.
  const store = document.body.dataset.storage;
  const marks = () => [...document.querySelectorAll("[id], [data-tick], [data-picture]")]
    .filter((mark) => mark.getClientRects().length && !mark.closest(".preview-notes"));
  const nameOf = (mark) => mark.dataset.tick ?? mark.dataset.picture ?? mark.id;
  const topOf = (mark) => mark.getBoundingClientRect().top;
  const sliders = () => [...document.querySelectorAll("input[type=range], select")];
  const folds = () => [...document.querySelectorAll("details:not(.preview-notes > *)")];

  const keep = () => {
    const [first] = marks().sort((a, b) => Math.abs(topOf(a)) - Math.abs(topOf(b)));
    const kept = {
      store,
      sliders: sliders().map((slider) => slider.value),
      open: folds().map((part) => part.open),
      notes: all.open,
      left: scrollX,
      top: scrollY,
      first: first && { name: nameOf(first), at: topOf(first) },
    };
    try { sessionStorage.setItem(KEPT, JSON.stringify(kept)); } catch { /* not kept then */ }
  };

  const taken = () => {
    try {
      const kept = JSON.parse(sessionStorage.getItem(KEPT));
      sessionStorage.removeItem(KEPT);
      const before = kept?.store && localStorage.getItem(kept.store);
      if (before && store && store !== kept.store) localStorage.setItem(store, before);
      return Array.isArray(kept?.sliders) && Array.isArray(kept.open) ? kept : null;
    } catch { return null; }
  };

  const scroll = (kept) => {
    const now = kept.first && marks().find((mark) => nameOf(mark) === kept.first.name);
    const top = now ? scrollY + topOf(now) - kept.first.at : kept.top;
    scrollTo({ left: kept.left, top, behavior: "instant" });
  };

  const bringBack = (kept) => {
    sliders().forEach((slider, index) => {
      const value = kept.sliders[index];
      if (value === undefined || value === slider.value) return;
      slider.value = value;
      for (const kind of ["input", "change"]) slider.dispatchEvent(new Event(kind, { bubbles: true }));
    });
    folds().forEach((part, index) => { part.open = kept.open[index] ?? part.open; });
    scroll(kept);
    // The type, and a place in the address, move things when they come.
    document.fonts.ready.then(() => scroll(kept));
    addEventListener("load", () => scroll(kept));
  };

  // The page unpacks a part of itself, and then calls itself `script`.
  const whenWhole = (then) => {
    const root = document.documentElement;
    const isWhole = () => !document.getElementById("packed") || root.classList.contains("script");
    if (isWhole()) { then(); return; }
    const waiting = new MutationObserver(() => {
      if (!isWhole()) return;
      waiting.disconnect();
      then();
    });
    waiting.observe(root, { attributes: true });
  };

  // ---- what is said about the recipe ----

  const made = (tag, kind, ...inside) => {
    const part = document.createElement(tag);
    if (kind) part.className = kind;
    part.append(...inside);  // texts stay texts, whatever stands in them
    return part;
  };

  const notes = made("section", "preview-notes");
  const all = made("details");
  const headline = made("span");
  const list = made("ol", "preview-list");
  const said = made("p", "preview-said");
  all.open = true;
  notes.hidden = true;
  notes.setAttribute("aria-label", "What is said about the recipe");
  headline.setAttribute("role", "status");
  list.setAttribute("role", "list");
  said.setAttribute("role", "status");
  all.append(made("summary", "preview-headline", headline), list);
  notes.append(all);

  const noteOf = (note) => {
    const part = made("li", note.heading.startsWith("warning") ? "preview-warning" : "preview-error");
    if (note.place) {
      const place = made("button", "preview-place", note.place);
      place.type = "button";
      place.addEventListener("click", () => go(note.place));
      part.append(place, " ");
    }
    if (note.heading) part.append(made("strong", "", note.heading), ": ");
    part.append(note.message);
    if (note.place) {
      const [before, meant, after] = note.line;
      const line = made("code", "", before, made("mark", "", meant), after);
      part.append(made("div", "preview-line", made("span", "", String(note.number)), line));
    }
    if (note.related.length) part.append(made("ul", "preview-list", ...note.related.map(noteOf)));
    if (note.hint) part.append(made("p", "preview-hint", made("strong", "", "hint"), ": ", note.hint));
    return part;
  };

  const show = (news) => {
    if (String(news.page) !== own) {
      keep();
      history.scrollRestoration = "manual";
      location.reload();
      return;
    }
    notes.className = `preview-notes preview-${news.kind}`;
    notes.hidden = !news.kind;
    headline.textContent = news.headline;
    list.replaceChildren(...news.notes.map(noteOf));
    makeRoom();
  };

  // What lies under the notes can be scrolled out from under them.
  const makeRoom = () => {
    const root = document.documentElement;
    root.classList.toggle("preview-noted", !notes.hidden);
    root.style.setProperty("--preview-room", `${notes.offsetHeight}px`);
  };

  // ---- going to the place of what is clicked ----

  const say = (text, isLasting) => {
    said.textContent = text;
    clearTimeout(say.timer);
    if (text && !isLasting) say.timer = setTimeout(() => { said.textContent = ""; }, 4000);
  };

  const follow = (link) => {
    const way = made("a");
    way.href = link;
    way.rel = "noreferrer";
    if (/^https?:/i.test(link)) way.target = "_blank";
    way.click();
  };

  const go = async (name) => {
    try {
      const answer = await fetch("place", { method: "POST", body: name });
      const { place, link } = await answer.json();
      if (!place) return;
      say(link ? place : `${place} is in the terminal`);
      if (link) follow(link);
    } catch { /* the watch has ended; the page says so already */ }
  };

  const namedBy = (target) => {
    const piece = target.closest("[data-piece], .folds-item");
    if (piece) return piece.dataset.piece ?? piece.dataset.name.replaceAll(" ", "-");
    if (target.closest("a, button, input, label, select, summary, textarea")) return "";
    const box = target.closest("tr, .steps > ol > li")?.querySelector("[data-tick]");
    const [kind, name] = (box?.dataset.tick ?? "").split("/");
    return kind === "cut" ? name : kind === "step" ? `step ${name}` : "";
  };

  document.addEventListener("click", (event) => {
    if (event.target.closest(".preview-notes") || String(getSelection())) return;
    const name = namedBy(event.target);
    if (name) go(name);
  });

  // ---- beginning ----

  const kept = taken();  // before the page's own script looks for what it remembers
  document.addEventListener("DOMContentLoaded", () => {
    document.body.append(notes, said);
    all.addEventListener("toggle", makeRoom);
    addEventListener("resize", makeRoom);
    if (kept) {
      all.open = kept.notes;
      whenWhole(() => bringBack(kept));
    }
    // A reload by hand is the browser's own affair again.
    addEventListener("load", () => setTimeout(() => { history.scrollRestoration = "auto"; }));
    const events = new EventSource("events");
    events.addEventListener("message", (event) => show(JSON.parse(event.data)));
    events.addEventListener("open", () => say(""));
    events.addEventListener("end", () => {
      events.close();
      say("The preview has ended; this page stays as it is.", true);
    });
    events.addEventListener("error", () => {
      say("The preview does not answer; this page may be out of date.", true);
    });
  });
})();
