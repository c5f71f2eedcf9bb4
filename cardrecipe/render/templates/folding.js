// Folds the card of each part `.folds`. Its scene stands in it as lists of whole numbers, which
// `folding_scene.py` makes and explains: thousandths of a millimetre, hundredths of a degree.
(() => {
"use strict";
const HOW = ["flat", "a quarter", "half way", "three quarters", "folded"];
const CLOSE = 30, SLIVER = 2e4, NEARLY = .99, SHUT = 16500;
const { PI, abs, cos, hypot, max, min, round, sin } = Math;
const within = (share) => max(0, min(1, share));
const times = (count, make) => Array.from({ length: count }, (_, i) => make(i));
const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
// A face is held by four arrows: the images of its axes, of its normal, and of (0, 0).
const along = ([r, d, n], x, y, z) => r.map((each, i) => x * each + y * d[i] + z * n[i]);
const at = (held, x, y, z) => along(held, x, y, z).map((each, i) => each + held[3][i]);
const swung = (held, [ax, ay, bx, by, sign], angle) => {
  const long = hypot(bx - ax, by - ay), ux = (bx - ax) / long, uy = (by - ay) / long;
  const c = cos(angle), s = sign * sin(angle);
  const turn = (x, y, z) => {
    const on = x * ux + y * uy, off = y * ux - x * uy, flat = off * c - z * s;
    return [on * ux - flat * uy, on * uy + flat * ux, off * s + z * c];
  };
  const [x, y, z] = turn(-ax, -ay, 0);
  return [...[[1, 0, 0], [0, 1, 0], [0, 0, 1]].map((axis) => along(held, ...turn(...axis))), at(held, x + ax, y + ay, z)];
};
// A smooth curve through angles at equal steps (Catmull and Rom 1974); two make a straight line.
const curve = (course, share) => {
  const i = min(course.length - 2, share * (course.length - 1) | 0), f = share * (course.length - 1) - i;
  const b = course[i], c = course[i + 1], a = course[i - 1] ?? 2 * b - c, d = course[i + 2] ?? 2 * c - b;
  return b + f * (c - a + f * (2 * a - 5 * b + 4 * c - d + f * (3 * (b - c) + d - a))) / 2;
};
const oval = ([a, b, , d]) => times(40, (i) => [0, 1].map((k) =>
  a[k] + (b[k] - a[k]) * (1 + cos(i * PI / 20)) / 2 + (d[k] - a[k]) * (1 + sin(i * PI / 20)) / 2));
const area = (ring) => ring.reduce((sum, [x, y], i) => sum + ring.at(i - 1)[0] * y - x * ring.at(i - 1)[1], 0) / 2;
// What two convex rings have in common (Sutherland and Hodgman 1974).
const common = (ring, other) => other.reduce((left, [x, y], i) => {
  const [u, v] = other.at(i - 1), sign = area(other) < 0 ? -1 : 1;
  const side = (p) => sign * ((x - u) * (p[1] - v) - (y - v) * (p[0] - u));
  return left.flatMap((p, k) => {
    const q = left.at(k - 1), a = side(q), b = side(p), f = a / (a - b);
    return [...a * b < 0 ? [[q[0] + f * (p[0] - q[0]), q[1] + f * (p[1] - q[1])]] : [], ...b < 0 ? [] : [p]];
  });
}, ring);
const box = (points) => [0, 1].flatMap((k) => [min, max].map((most) => most(...points.map((p) => p[k]))));
const path = (rings, end = "Z") => rings.map((ring) =>
  `M${ring.map((p) => `${(p[0] / 1e3).toFixed(2)} ${(p[1] / 1e3).toFixed(2)}`).join("L")}${end}`).join("");
const darker = (color, share) => "#" + [43, 41, 38].map((ink, k) => {
  const own = parseInt(color.slice(2 * k + 1, 2 * k + 3), 16);
  return round(own + (ink - own) * share).toString(16).padStart(2, "0");
}).join("");
const set = (node, values) => Object.entries(values).forEach((each) => node.setAttribute(...each));
const draw = (tag, kind, parent) => {
  const made = parent.appendChild(document.createElementNS("http://www.w3.org/2000/svg", tag));
  set(made, { class: kind });
  return made;
};

for (const part of document.querySelectorAll(".folds")) {
  const one = (query) => part.querySelector(query), all = (query) => [...part.querySelectorAll(query)];
  const { v: [tilt, aside, ...light], c: colors, f: faces, p: pieces, j: joints, t: folds, b: bands } =
    JSON.parse(one("script").textContent);
  const svg = one("svg"), whole = one("[data-whole]"), about = one("[data-about]"), play = one("[data-play]");
  const closing = [...folds.keys()].filter((i) => !folds[i][2]);
  const turns = [...folds, ...bands.map(() => [[], closing])], shares = turns.map(() => 0);
  const steps = [...turns.keys()].filter((i) => !turns[i][2]);
  const sliders = turns.map((_, i) => one(`[data-turn="${i}"]`));
  const names = sliders.map((slider) => slider ? `${slider.labels[0].firstChild.data.trim()} ` : "")
    .map((name) => name.slice(0, 1).toLowerCase() + name.slice(1));
  const ways = faces.map(() => new Set()), root = faces.findIndex((face) => !face[0].length);
  const items = [...faces.map(([, ...rest], i) => [i, ...rest]), ...pieces].map((
    [face, over, under, rank, height, lift, rings, parts, name, band], i) => {
    const group = draw("g", "folds-item", svg), shadow = lift && draw("path", "folds-shadow", group);
    const points = rings.map((ring) => times(ring.length / 2, (i) => ring.slice(2 * i, 2 * i + 2)));
    if (parts === 0) points[0] = oval(points[0]);
    group.dataset[i < faces.length ? "section" : "piece"] = name;
    return { face, rank, height, lift, points, parts, band, group, shadow, colors: [colors[over], colors[under]],
      paper: draw("path", "folds-paper", group) };
  });
  const scores = joints.map(() => ["folds-under", "folds-score"].map((kind) => draw("path", kind, svg)));

  // ---- where everything is ----
  const angles = (some) => {
    const found = joints.map(() => 0);
    folds.forEach(([courses], i) => some[i] && courses.forEach(([joint, ...course]) => {
      found[joint] = curve(course, some[i]);
    }));
    return found;
  };
  const hold = (some) => {
    const turned = angles(some), held = [];
    const place = (face) => held[face] ??= (([parent, joint, ...line]) => {
      if (parent === undefined) return [[1, 0, 0], [0, 1, 0], [0, 0, 1], [0, 0, 0]];
      const from = place(parent);
      ways[face] = new Set([...ways[parent], ...joint === undefined ? [] : [joint]]);
      return joint === undefined ? from : swung(from, line, turned[joint] * PI / 18e3);
    })(faces[face][0]);
    faces.forEach((_, i) => place(i));
    return held;
  };
  const closed = hold(turns.map((_, i) => +closing.includes(i)));
  const camera = (degrees) => {
    const [c, s, ca, sa, ct, st] = [degrees * PI / 180, aside, tilt].flatMap((angle) => [cos(angle), sin(angle)]);
    return [[ca, sa, 0], [-sa * st, ca * st, -ct], [-sa * ct, ca * ct, st], light].map(([x, y, z]) =>
      [x * c - z * s, y, x * s + z * c]);
  };
  const seen = (rows, arrow) => rows.map((row) => dot(row, arrow));
  const depth = (rows, held) => {
    const n = seen(rows, held[2]), o = seen(rows, held[3]);
    return ([x, y]) => o[2] - (n[0] * (x - o[0]) + n[1] * (y - o[1])) / n[2];
  };
  const see = (rows, held) => items.filter((item) => {
    const own = held[item.face], share = item.band === undefined ? 1 : shares[folds.length + item.band];
    const [dx, dy] = (bands[item.band] ?? [0, 0]).map((far) => far * (1 - share));
    const look = (lift) => (ring) => ring.map(([x, y]) => seen(rows, at(own, x + dx, y + dy, lift)));
    const ring = look(0)(item.points[0]), normal = seen(rows, own[2]);
    const up = normal[2] > 0, side = up ? 1 : -1;
    Object.assign(item, { ring, up, rings: item.points.map(look(item.lift)),
      shapes: item.parts.length ? item.parts.map((corners) => corners.map((k) => ring[k])) : [ring],
      light: .35 + .65 * max(0, side * normal[3]), depth: depth(rows, own), box: box(ring),
      middle: ring.reduce((sum, p) => sum + p[2], 0) / ring.length });
    return share && abs(normal[2]) > 1e-3 && abs(area(ring)) > SLIVER;
  });

  // ---- what hides what: more than 0 where `b` is the nearer, 0 where they do not meet ----
  const sorted = (rows, waiting) => {
    const eased = [], done = closing.every((i) => shares[i] === 1) && !folds.some((turn, i) => turn[2] && shares[i]);
    const ease = (i) => eased[i] ??= hold(shares.map((share, k) => k === i ? NEARLY * share : share));
    // In one plane: as the closed card lies, else as the latest fold laid them, else as put on the sheet.
    const layers = (a, b, point) => {
      if (done) return (b.rank - a.rank) * (items[root].up ? 1 : -1);
      const apart = joints.map((_, i) => ways[a.face].has(i) !== ways[b.face].has(i));
      const i = folds.findLastIndex(([courses], k) => shares[k] && courses.some(([joint]) => apart[joint]));
      if (i < 0) return apart.includes(true) ? (b.height - a.height) * (a.up ? 1 : -1)
        : (b.rank - a.rank) * (a.up === closed[a.face][2][2] > 0 ? 1 : -1);
      const [far, near] = [a, b].map(({ face }) => depth(rows, ease(i)[face])(point));
      return near - far;
    };
    const over = (a, b) => {
      if (a.box[0] >= b.box[1] || b.box[0] >= a.box[1] || a.box[2] >= b.box[3] || b.box[2] >= a.box[3]) return 0;
      let most = 0, point;
      for (const p of a.shapes) for (const q of b.shapes) {
        const shared = common(p, q);
        if (abs(area(shared)) < SLIVER) continue;
        point = [0, 1].map((k) => shared.reduce((sum, each) => sum + each[k], 0) / shared.length);
        for (const each of shared) {
          const nearer = b.depth(each) - a.depth(each);
          if (abs(nearer) > abs(most)) most = nearer;
        }
      }
      return !point || abs(most) > CLOSE ? most : layers(a, b, point);
    };
    waiting.sort((a, b) => a.middle - b.middle);
    const before = new Map(waiting.map((item) => [item, new Set()]));
    waiting.forEach((a, i) => waiting.slice(0, i).forEach((b) => {
      const nearer = over(a, b);
      if (nearer) before.get(nearer > 0 ? b : a).add(nearer > 0 ? a : b);
    }));
    return times(waiting.length, () => {
      const free = waiting.findIndex((item) => !waiting.some((other) => before.get(item).has(other)));
      return waiting.splice(max(free, 0), 1)[0];
    });
  };

  // ---- painting ----
  const room = [0, 0];
  const measured = (rows, some) => {
    const there = see(rows, hold(some));
    return [there, box(there.flatMap((item) => item.ring))];
  };
  const measure = () => folds.forEach((turn, i) => times(3, (k) => times(6, (sixth) => {
    const some = turns.map((each, other) => other === i ? k / 2 : +(turn[2] ? turn[1].includes(other) : other < i && !each[2]));
    const [, [left, right, top, bottom]] = measured(camera(60 * sixth), some);
    room[0] = max(room[0], (right - left) / 1e3 + 8);
    room[1] = max(room[1], (bottom - top) / 1e3 + 8);
  })));
  const paint = () => {
    const rows = camera(+about.value), held = hold(shares), turned = angles(shares);
    const [there, [left, right, top, bottom]] = measured(rows, shares), order = sorted(rows, there);
    const corner = [(left + right) / 2e3 - room[0] / 2, (top + bottom) / 2e3 - room[1] / 2];
    set(svg, { viewBox: [...corner, ...room].map((each) => each.toFixed(2)).join(" ") });
    svg.replaceChildren(...order.map((item) => item.group));
    for (const item of order) {
      const [fill, stroke, , , clear] = item.color = item.colors[item.up ? 0 : 1];
      item.fill = darker(fill, .3 * (1 - item.light));
      set(item.paper, { d: path(item.rings), fill: item.fill, stroke, "fill-opacity": clear });
      if (item.shadow) set(item.shadow, { d: path([item.ring]) });
    }
    joints.forEach(([a, b, x, y, u, v, sign], i) => {
      const item = order[max(order.indexOf(items[a]), order.indexOf(items[b]))], [under, score] = scores[i];
      under.remove();
      score.remove();
      if (!item || abs(turned[i]) > SHUT) return;
      const valley = sign > 0 === item.up, own = held[item.face];
      const d = path([[at(own, x, y, item.lift), at(own, u, v, item.lift)].map((p) => seen(rows, p))], "");
      set(under, { d, stroke: item.fill });
      set(score, { d, stroke: item.color[valley ? 2 : 3], class: valley ? "folds-score" : "folds-score folds-mountain" });
      item.group.append(under, score);
    });
    tell();
  };

  // ---- words ----
  const how = (i) => i < folds.length && !folds[i][2]
    ? HOW[shares[i] % 1 ? max(1, min(3, round(4 * shares[i]))) : 4 * shares[i]] : `${round(100 * shares[i])} %`;
  const state = () => {
    const held = [...turns.keys()].filter((i) => shares[i] && (!folds.some((turn, k) => turn[2] && shares[k]) || folds[i]?.[2]));
    if (!held.length) return "flat";
    return steps.length && steps.every((i) => shares[i] === 1) ? "closed" : held.map((i) => names[i] + how(i)).join(", ");
  };
  const tell = () => {
    const told = (slider, value, text) => {
      if (!slider) return;
      slider.value = value;
      slider.setAttribute("aria-valuetext", text);
      const beside = slider.parentNode.querySelector(".folds-said");
      if (beside) beside.textContent = text;
    };
    sliders.forEach((slider, i) => told(slider, 100 * shares[i], how(i)));
    told(whole, 100 * steps.reduce((sum, i) => sum + shares[i], 0), state());
    told(about, about.value, `${about.value} degrees`);
    for (const button of all("[data-side]")) set(button, { "aria-pressed": abs(about.value) === +button.dataset.side });
  };
  let waiting, running;
  const announce = () => {
    clearTimeout(waiting);
    waiting = setTimeout(() => { one("[data-said]").textContent = `The card is now: ${state()}.`; }, 600);
  };

  // ---- controls ----
  const open = (i) => {
    shares[i] = 0;
    turns.forEach((turn, k) => shares[k] && turn[1].includes(i) && open(k));
  };
  const shut = (i) => turns[i][1].forEach((other) => {
    shares[other] = 1;
    shut(other);
  });
  const move = (i, share) => {
    turns.forEach((turn, k) => {
      if (turn[2] || (turns[i][2] && !turns[i][1].includes(k))) shares[k] = 0;
    });
    if (share) shut(i);
    if (share < 1) open(i);
    shares[i] = share;
  };
  const go = (value) => {
    shares.fill(0);
    steps.forEach((i, k) => { shares[i] = within(value / 100 - k); });
  };
  const run = (value, before) => requestAnimationFrame((now) => {
    if (!running) return;
    const next = min(+whole.max, value + (now - before) / 14);
    go(next);
    paint();
    if (next < whole.max) return run(next, now);
    rest();
    announce();
  });
  const rest = (on = false) => {
    running = on;
    if (play) play.textContent = on ? "Pause" : "Play";
  };
  part.addEventListener("input", ({ target }) => {
    rest();
    if (target === whole) go(+target.value);
    else if (target !== about) move(sliders.indexOf(target), target.value / 100);
    paint();
    announce();
  });
  part.addEventListener("click", ({ target }) => {
    if (target.dataset.side) {
      about.value = target.dataset.side;
      paint();
      announce();
    } else if (target === play) {
      rest(!running);
      if (running) run(whole.value === whole.max ? 0 : +whole.value, performance.now());
    }
  });
  if (play) play.hidden = !matchMedia("(prefers-reduced-motion: no-preference)").matches;
  part.hidden = false;
  measure();
  paint();
}
})();
