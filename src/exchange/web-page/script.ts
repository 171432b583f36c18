/**
 * The script of a page to look at, as it stands in the page: pan, zoom, decks. It is the same for every plan, since the
 * page's policy lets run what has its hash and nothing else.
 */

/** Without it every drawing is there to see, one below the other: a mail program may show the page and run nothing. */
export const SCRIPT = `"use strict";
(() => {
  const MOST = 40;
  document.documentElement.classList.add("live");
  const all = (selector, within) => [...(within || document).querySelectorAll(selector)];

  for (const section of all("section[data-views]")) {
    const views = all(".view", section);
    const svgs = views.map((view) => view.querySelector("svg"));
    const [x, y, w, h] = svgs[0].getAttribute("viewBox").split(" ").map(Number);
    let now = { x, y, w, h };

    const show = (next) => {
      const scale = Math.min(Math.max(next.w / w, 1 / MOST), 1);
      const size = { w: w * scale, h: h * scale };
      const within = (v, low, span, own) => (scale === 1 ? low : Math.min(Math.max(v, low - own / 2), low + span - own / 2));
      now = { x: within(next.x, x, w, size.w), y: within(next.y, y, h, size.h), ...size };
      for (const svg of svgs) svg.setAttribute("viewBox", [now.x, now.y, now.w, now.h].join(" "));
      section.classList.toggle("near", scale < 1);
    };
    const pxSize = (svg) => Math.max(now.w / (svg.clientWidth || 1), now.h / (svg.clientHeight || 1));
    const zoomBy = (factor) => Math.min(Math.max(factor, now.w / w), (now.w / w) * MOST);
    const zoom = (factor) => {
      const f = zoomBy(factor);
      const size = { w: now.w / f, h: now.h / f };
      show({ x: now.x + (now.w - size.w) / 2, y: now.y + (now.h - size.h) / 2, ...size });
    };
    // What lies under one place of the screen comes to lie under another, so much larger.
    const carry = (svg, from, to, factor) => {
      const box = svg.getBoundingClientRect();
      const [cx, cy] = [box.left + box.width / 2, box.top + box.height / 2];
      const unit = pxSize(svg);
      const f = zoomBy(factor);
      const size = { w: now.w / f, h: now.h / f };
      const at = (low, span, middle, a, b, own) => low + span / 2 + (a - middle) * unit - ((b - middle) * unit) / f - own / 2;
      show({ x: at(now.x, now.w, cx, from.x, to.x, size.w), y: at(now.y, now.h, cy, from.y, to.y, size.h), ...size });
    };
    const pan = (dx, dy) => show({ ...now, x: now.x + dx, y: now.y + dy });
    const whole = () => show({ x, y, w, h });

    const STEPS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
    views.forEach((view, i) => {
      const svg = svgs[i];
      const held = new Map();
      const middle = () => {
        const points = [...held.values()];
        const sum = points.reduce((a, p) => ({ x: a.x + p.x, y: a.y + p.y }), { x: 0, y: 0 });
        const at = { x: sum.x / points.length, y: sum.y / points.length };
        return { at, spread: points.length < 2 ? 0 : Math.hypot(points[0].x - points[1].x, points[0].y - points[1].y) };
      };
      view.addEventListener("pointerdown", (event) => {
        if (event.button !== 0) return;
        view.setPointerCapture(event.pointerId);
        held.set(event.pointerId, { x: event.clientX, y: event.clientY });
      });
      view.addEventListener("pointermove", (event) => {
        if (!held.has(event.pointerId)) return;
        const before = middle();
        held.set(event.pointerId, { x: event.clientX, y: event.clientY });
        const after = middle();
        carry(svg, before.at, after.at, before.spread > 0 && after.spread > 0 ? after.spread / before.spread : 1);
      });
      for (const end of ["pointerup", "pointercancel", "lostpointercapture"])
        view.addEventListener(end, (event) => held.delete(event.pointerId));
      view.addEventListener(
        "wheel",
        (event) => {
          event.preventDefault();
          const by = event.deltaY * (event.deltaMode === 1 ? 16 : 1);
          const at = { x: event.clientX, y: event.clientY };
          carry(svg, at, at, Math.exp(-by / 500));
        },
        { passive: false },
      );
      view.addEventListener("keydown", (event) => {
        if (event.ctrlKey || event.metaKey || event.altKey) return;
        const step = STEPS[event.key];
        if (step) pan((step[0] * now.w) / 8, (step[1] * now.h) / 8);
        else if (event.key === "+" || event.key === "=") zoom(1.5);
        else if (event.key === "-") zoom(1 / 1.5);
        else if (event.key === "0" || event.key === "Home") whole();
        else return;
        event.preventDefault();
      });
    });
    const does = { in: () => zoom(1.5), out: () => zoom(1 / 1.5), whole };
    for (const button of all("button[data-zoom]", section)) button.addEventListener("click", does[button.dataset.zoom]);

    const decks = all("button[data-deck]", section);
    const choose = (chosen) => {
      for (const button of decks) button.setAttribute("aria-pressed", String(button === chosen));
      for (const sheet of all(".sheet", section)) sheet.hidden = sheet.dataset.deck !== chosen.dataset.deck;
    };
    for (const button of decks) button.addEventListener("click", () => choose(button));
    const first = decks.find((button) => button.getAttribute("aria-pressed") === "true");
    if (first) choose(first);
  }
})();
`;

/** SHA-256 of the script, base64, as a Content-Security-Policy names it; asserted in the tests. */
export const SCRIPT_HASH = "G5pGkvYUIxdT2dRdbxFx/BYYZc7p3acoI3I8i3IhLHI=";
