// A drawing of the layout, looked at closely: zoom, moving about, and measuring between two things or edges.
// Zoom changes the viewBox alone, so that whoever converts a pointer's place by the drawing's own matrix needs
// to know nothing of it.  A press on a body is left to whoever moves bodies.  The distance itself is the
// server's; without this file the drawing scrolls in its box and measuring is a page with a form.
(() => {
  "use strict";

  const MOST = 12;        // how many times larger than fitted
  const STEP = 1.4;       // of a button, a key, a notch of the wheel
  const EDGE_PX = 9;      // from an edge within which the edge is meant, not the whole
  const STEADY_PX = 4;    // that a pointer moves before a press is a drag

  let view = null;        // { scale, x, y }: how large, and what part of the whole is in the middle
  let whole = null;       // the viewBox as the server sent it: [x, y, width, height]
  let last = "";          // the viewBox as this file wrote it
  let moving = null;      // a drag of the drawing
  let pinch = null;
  let measuring = null;   // { first } while two things are being chosen
  let asking = null;

  const box = () => document.querySelector(".drawing-box[data-zoom]");
  const drawing = () => box()?.querySelector("svg.board-drawing");
  const toggle = () => document.querySelector("a[data-measure]");
  const say = (words) => { document.getElementById("announcer").textContent = words; };
  const clamp = (value, low, high) => Math.min(Math.max(value, low), Math.max(low, high));

  // Zoom.
  function readWhole() {
    const now = drawing()?.getAttribute("viewBox");
    if (!now || now === last) return Boolean(now);
    whole = now.split(" ").map(Number);
    return true;
  }

  function show() {
    if (!readWhole()) return;
    const [x, y, width, height] = whole;
    view ??= { scale: 1, x: x + width / 2, y: y + height / 2 };
    const wide = width / view.scale, high = height / view.scale;
    view.x = clamp(view.x, x + wide / 2, x + width - wide / 2);
    view.y = clamp(view.y, y + high / 2, y + height - high / 2);
    last = [view.x - wide / 2, view.y - high / 2, wide, high].map((one) => one.toFixed(2)).join(" ");
    if (view.scale === 1) last = whole.join(" ");
    drawing().setAttribute("viewBox", last);
    box().classList.toggle("is-zoomed", view.scale > 1);
    const said = document.querySelector("[data-zoom-said]");
    if (said) said.textContent = `${Math.round(view.scale * 100)} %`;
  }

  // A pointer's place on the drawing, whatever is shown of it.
  function placeOf(clientX, clientY) {
    const matrix = drawing().getScreenCTM().inverse();
    return new DOMPoint(clientX, clientY).matrixTransform(matrix);
  }

  // What lies under the pointer stays there.
  function zoomTo(scale, clientX, clientY) {
    if (!readWhole()) return;
    show();
    const edges = drawing().getBoundingClientRect();
    const at = placeOf(clientX ?? edges.x + edges.width / 2, clientY ?? edges.y + edges.height / 2);
    const next = clamp(scale, 1, MOST), ratio = view.scale / next;
    view = { scale: next, x: at.x + (view.x - at.x) * ratio, y: at.y + (view.y - at.y) * ratio };
    show();
  }

  const zoomBy = (factor, x, y) => zoomTo((view?.scale ?? 1) * factor, x, y);
  const fit = () => { view = null; show(); };

  document.addEventListener("click", (event) => {
    const way = event.target.closest?.("[data-zoom-by]")?.dataset.zoomBy;
    if (way === "in") zoomBy(STEP);
    else if (way === "out") zoomBy(1 / STEP);
    else if (way === "fit") fit();
  });

  document.addEventListener("wheel", (event) => {
    if (!event.ctrlKey || !event.target.closest?.(".drawing-box[data-zoom]")) return;
    event.preventDefault();
    zoomBy(event.deltaY < 0 ? STEP : 1 / STEP, event.clientX, event.clientY);
  }, { passive: false });

  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && measuring) return leaveMeasuring();
    const within = event.target.closest?.(".drawing-box[data-zoom]");
    if (!within || event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === "+" || event.key === "=") zoomBy(STEP);
    else if (event.key === "-") zoomBy(1 / STEP);
    else if (event.key === "0") fit();
    else return;
    event.preventDefault();
  });

  // Moving about: two fingers at any time, one pointer on empty ground where the drawing is larger than its box.
  const between = (touches) => {
    const [one, other] = touches;
    return {
      x: (one.clientX + other.clientX) / 2,
      y: (one.clientY + other.clientY) / 2,
      far: Math.max(1, Math.hypot(one.clientX - other.clientX, one.clientY - other.clientY)),
    };
  };

  function startPinch(event) {
    if (event.touches.length !== 2 || !event.target.closest?.(".drawing-box[data-zoom]") || !readWhole()) return;
    event.preventDefault();
    show();
    const now = between(event.touches);
    moving = null;
    pinch = { far: now.far, scale: view.scale, at: placeOf(now.x, now.y) };
  }

  function movePinch(event) {
    if (!pinch || event.touches.length !== 2) return;
    event.preventDefault();
    const now = between(event.touches);
    view.scale = clamp(pinch.scale * now.far / pinch.far, 1, MOST);
    show();
    const there = placeOf(now.x, now.y);
    view.x += pinch.at.x - there.x;
    view.y += pinch.at.y - there.y;
    show();
  }

  document.addEventListener("touchstart", startPinch, { passive: false });
  document.addEventListener("touchmove", movePinch, { passive: false });
  for (const name of ["touchend", "touchcancel"]) {
    document.addEventListener(name, (event) => { if (event.touches.length < 2) pinch = null; });
  }

  const isBody = (target) => Boolean(target.closest?.("[data-ref]"));

  function startMoving(event) {
    if (!event.target.closest?.(".drawing-box[data-zoom]") || !drawing()?.contains(event.target)) return;
    if (measuring) return event.stopImmediatePropagation();
    const byWheel = event.button === 1;
    if (!byWheel && (event.button !== 0 || event.shiftKey || isBody(event.target))) return;
    if ((view?.scale ?? 1) <= 1 || pinch || !event.isPrimary) return;
    event.stopImmediatePropagation();
    event.preventDefault();
    moving = { id: event.pointerId, x: event.clientX, y: event.clientY, at: placeOf(event.clientX, event.clientY) };
  }

  function move(event) {
    if (moving?.id !== event.pointerId) return;
    if (!moving.going && Math.hypot(event.clientX - moving.x, event.clientY - moving.y) < STEADY_PX) return;
    moving.going = true;
    box().classList.add("is-moving");
    const there = placeOf(event.clientX, event.clientY);
    view.x += moving.at.x - there.x;
    view.y += moving.at.y - there.y;
    show();
  }

  function stopMoving(event) {
    if (moving?.id !== event.pointerId) return;
    const went = moving.going;
    moving = null;
    box()?.classList.remove("is-moving");
    if (went) window.addEventListener("click", swallow, { capture: true, once: true });
    setTimeout(() => window.removeEventListener("click", swallow, { capture: true }), 0);
  }

  function swallow(event) { event.preventDefault(); event.stopPropagation(); }

  window.addEventListener("pointerdown", startMoving, { capture: true });
  window.addEventListener("pointermove", move);
  window.addEventListener("pointerup", stopMoving);
  window.addEventListener("pointercancel", stopMoving);

  // Measuring: first one thing, then another; each by pressing it, near an edge the edge alone.
  function shapeAt(target, clientX, clientY) {
    const ref = target.closest?.("[data-ref]")?.dataset.ref;
    const named = ref && [...drawing().querySelectorAll("rect[data-ref]")].find((one) => one.dataset.ref === ref);
    if (named) return named;
    const things = [...drawing().querySelectorAll("rect[data-thing]")].reverse();
    const within = (one, out) => {
      const edges = one.getBoundingClientRect();
      return clientX >= edges.left - out && clientX <= edges.right + out && clientY >= edges.top - out && clientY <= edges.bottom + out;
    };
    const inner = things.find((one) => one.dataset.thing !== "frame edge" && within(one, 2));
    return inner ?? things.find((one) => one.dataset.thing === "frame edge" && within(one, EDGE_PX));
  }

  // Left and right are the player's: on a mirrored drawing they have changed sides.
  function edgeAt(shape, clientX, clientY) {
    const edges = shape.getBoundingClientRect();
    const sides = box().querySelector("svg").dataset.mirrored ? ["right", "left"] : ["left", "right"];
    const far = [
      [sides[0], Math.abs(clientX - edges.left)],
      [sides[1], Math.abs(clientX - edges.right)],
      ["rear", Math.abs(clientY - edges.top)],
      ["front", Math.abs(clientY - edges.bottom)],
    ].sort((one, other) => one[1] - other[1])[0];
    const isFrame = shape.dataset.thing === "frame edge";
    const room = Math.min(edges.width, edges.height) / 4;
    return far[1] <= (isFrame ? EDGE_PX : Math.min(EDGE_PX, room)) ? far[0] : "";
  }

  function pick(event) {
    const byKey = event.detail === 0;
    const edges = event.target.getBoundingClientRect();
    const x = byKey ? edges.x + edges.width / 2 : event.clientX;
    const y = byKey ? edges.y + edges.height / 2 : event.clientY;
    const shape = shapeAt(event.target, x, y);
    if (!shape) return "";
    const name = shape.dataset.ref ?? shape.dataset.thing;
    const edge = byKey ? "" : edgeAt(shape, x, y);
    if (name === "frame edge" && !edge) return "";
    outline(shape, edge);
    return edge ? `${name}:${edge}` : name;
  }

  function outline(shape, edge) {
    const { x, y, width, height } = shape.getBBox();
    const mirrored = box().querySelector("svg").dataset.mirrored;
    const left = mirrored ? "right" : "left";
    const ends = {
      "": [[x, y], [x + width, y], [x + width, y + height], [x, y + height], [x, y]],
      rear: [[x, y], [x + width, y]],
      front: [[x, y + height], [x + width, y + height]],
      left: edge === left ? [[x, y], [x, y + height]] : [[x + width, y], [x + width, y + height]],
      right: edge === left ? [[x, y], [x, y + height]] : [[x + width, y], [x + width, y + height]],
    }[edge];
    const line = document.createElementNS("http://www.w3.org/2000/svg", "polyline");
    line.setAttribute("points", ends.map((one) => one.join(",")).join(" "));
    line.setAttribute("class", "is-aimed-at");
    drawing().append(line);
  }

  const clear = () => drawing()?.querySelectorAll(".is-aimed-at, .d-measure-line").forEach((one) => one.remove());

  function choose(event) {
    const link = event.target.closest?.("a[data-measure]");
    if (link && !event.ctrlKey && !event.metaKey && !event.shiftKey && event.button === 0) {
      event.preventDefault();
      return measuring ? leaveMeasuring() : startMeasuring();
    }
    if (!measuring || !drawing()?.contains(event.target)) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    if (!measuring.first) clear();
    const name = pick(event);
    if (!name) return;
    if (measuring.first) { ask(measuring.first, name); measuring.first = ""; return; }
    measuring.first = name;
    answer(toggle().dataset.second);
  }

  function startMeasuring() {
    measuring = { first: "" };
    markMeasuring();
    answer(toggle().dataset.first);
  }

  function leaveMeasuring() {
    asking?.abort();
    measuring = null;
    clear();
    markMeasuring();
    const place = document.getElementById("measured");
    if (place) { place.hidden = true; place.replaceChildren(); }
    say(toggle()?.dataset.left ?? "");
  }

  function markMeasuring() {
    toggle()?.setAttribute("role", "button");
    toggle()?.setAttribute("aria-pressed", String(Boolean(measuring)));
    box()?.classList.toggle("is-measuring", Boolean(measuring));
    box()?.toggleAttribute("data-measuring", Boolean(measuring)); // whoever moves bodies leaves them alone then
  }

  function answer(words) {
    const place = document.getElementById("measured");
    if (!place) return;
    place.replaceChildren(Object.assign(document.createElement("p"), { textContent: words }));
    place.hidden = false;
    say(words);
  }

  async function ask(one, other) {
    const data = toggle().dataset;
    const query = new URLSearchParams({ from: one, to: other, view: data.view });
    asking?.abort();
    asking = new AbortController();
    try {
      const got = await fetch(`${data.measure}?${query}`, { headers: { "HX-Request": "true" }, signal: asking.signal });
      if (got.status !== 200 && got.status !== 422) return answer(data.failed);
      tell(await got.text());
    } catch (error) {
      if (error.name !== "AbortError") answer(data.failed);
    }
  }

  function tell(html) {
    const found = new DOMParser().parseFromString(html, "text/html").body;
    const line = found.querySelector("[data-overlay] .d-measure-line");
    found.querySelector("[data-overlay]")?.remove();
    const place = document.getElementById("measured");
    if (!measuring || !place) return;
    place.replaceChildren(...found.childNodes);
    place.hidden = false;
    if (line) { clear(); drawing().append(document.importNode(line, true)); }
    say(place.querySelector("[data-said]")?.textContent.replace(/\s+/g, " ").trim() ?? "");
  }

  window.addEventListener("click", choose, { capture: true });

  // A space presses what looks like a button.
  document.addEventListener("keydown", (event) => {
    if (event.key !== " " || !event.target.matches?.("a[data-measure]")) return;
    event.preventDefault();
    event.target.click();
  });

  function begin() {
    if (!box()) return;
    document.documentElement.classList.add("has-drawing-view");
    markMeasuring();
    show();
  }

  // A swap sends the drawing as it is when it is fitted, and nothing that was measured.
  document.addEventListener("htmx:after:swap", () => { if (measuring) measuring.first = ""; begin(); });
  begin();
})();
