// The layout page: the drawing is edited by mouse, pen, finger and keys; layout-drawing.js reads and paints it.
// What would be found is asked of the server and shown before a thing is let go; each move then fills in and sends
// one form, whose answer is the sheet.  Fields and buttons of the page do the same without this file.
(() => {
  "use strict";

  const DRAG_FROM = { mouse: 4, touch: 8, pen: 6 }; // px that a pointer moves before a press is a drag
  const SNAP = 7;          // px within which an edge draws a thing to it
  const KEYS_REST = 450;   // ms after the last arrow key before the move is made
  const SCROLL_EDGE = 40;  // px from an edge of the window, or of the drawing's box, within which a drag scrolls
  const SCROLL_STEP = 7;
  const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

  const { box, svg, links, linkOf, partOf, hand, placeOf, asBox, origin, toMm, pxPerMm, plugsOf, element, drawGhosts, clearLive } = globalThis.boardshopDrawing;
  const trying = globalThis.boardshopTrying;
  const announce = (words) => { document.getElementById("announcer").textContent = words; };
  const isPressed = (event) => event.ctrlKey || event.metaKey || event.shiftKey;

  const chosen = new Set();
  let choices = 0;         // counts how often something else was chosen here
  let isSeveral = false;   // whether each press chooses one more
  let press = null;        // a pointer that is down on the drawing or on the tray
  let moving = null;       // { places: Map of ref to place, by: "drag" or "keys" }
  const sends = [];        // moves without an answer yet, the oldest first
  let band = null;         // the frame that is drawn around things

  // Places.
  const presentPlace = (ref) => {
    const sent = sends.findLast((send) => send.places.has(ref));
    return sent ? sent.places.get(ref) : placeOf(ref);
  };
  const isPinned = (ref) => hand().pinned.includes(ref);
  const write = (places) => [...places].map(([ref, at]) => (at ? `${ref}=${at.x},${at.y},${at.turn}${at.flag ?? ""}` : `${ref}=off`)).join(" ");

  // Drawing.
  function paint() {
    if (!svg()) return;
    for (const link of links()) {
      const isChosen = chosen.has(link.dataset.ref);
      const outline = partOf(link.dataset.ref)?.querySelector(".d-body") ?? link.querySelector(".d-supply");
      for (const one of [link, outline]) one?.classList.toggle("is-selected", isChosen);
      if (isChosen) link.setAttribute("aria-current", "true"); else link.removeAttribute("aria-current");
    }
    document.getElementById("several")?.setAttribute("aria-pressed", String(isSeveral));
    paintGhosts();
  }

  function paintGhosts() {
    const places = new Map(sends.flatMap((send) => [...send.places]));
    for (const [ref, place] of moving?.places ?? []) places.set(ref, place);
    drawGhosts(places, moving?.lines ?? []);
  }

  // Choosing.
  function choose(refs, isMore = false) {
    if (isMore) for (const ref of refs) { if (!chosen.delete(ref)) chosen.add(ref); }
    else { chosen.clear(); for (const ref of refs) chosen.add(ref); }
    choices += 1;
    paint();
    showSelection();
  }

  let showing = null;      // the request for what is chosen
  let shownRefs = null;    // a promise of the panel that shows it
  function showSelection() {
    showing?.abort();
    showing = new AbortController();
    const address = `${box().dataset.select}?open=${encodeURIComponent([...chosen].join(" "))}`;
    shownRefs = fetch(address, { headers: { "HX-Request": "true" }, signal: showing.signal })
      .then((answer) => (answer.ok ? answer.text() : Promise.reject(new Error(answer.status))))
      .then((html) => {
        const panel = new DOMParser().parseFromString(html, "text/html").getElementById("selection");
        const old = document.getElementById("selection");
        if (!panel || !old) return;
        const focused = old.contains(document.activeElement) ? document.activeElement.id : "";
        old.replaceWith(panel);
        htmx.process(panel);
        paint();
        if (focused) document.getElementById(focused)?.focus({ preventScroll: true });
        if (!moving) announce(panel.querySelector("h2").textContent.replace(/\s+/g, " ").trim());
      })
      .catch(() => {}); // left for another one, or no answer: the drawing still shows what is chosen
  }

  async function pressButton(id) {
    await shownRefs;
    document.getElementById(id)?.click();
  }

  // Making it so.
  function send(places) {
    const form = document.getElementById("by-hand");
    moving = null;
    trying.leave();
    const changed = new Map([...places].filter(([ref, at]) => write([[ref, presentPlace(ref)]]) !== write([[ref, at]])));
    if (!form || !changed.size) { clearLive(); paint(); return; }
    sends.push({ places: changed });
    form.elements.place.value = write(changed);
    form.elements.open.value = [...chosen].join(" ");
    paint();
    form.requestSubmit();
  }

  const letGo = () => { moving = null; trying.leave(); clearLive(); paint(); };

  const isByHand = (event) => event.detail?.ctx?.sourceElement?.closest?.("form")?.id === "by-hand";
  let focusedRef = "", stoodAt = 0, heldAt = null;
  document.addEventListener("htmx:before:request", (event) => {
    const ctx = event.detail?.ctx, body = ctx?.request?.body;
    if (ctx) ctx.choices = choices;
    // What waited for an earlier answer goes with what is chosen by now.
    if (body instanceof URLSearchParams && body.has("open")) body.set("open", [...chosen].join(" "));
  });
  document.addEventListener("htmx:before:swap", () => {
    focusedRef = document.activeElement?.closest?.("svg a[data-ref]")?.dataset.ref ?? "";
    stoodAt = svg()?.getBoundingClientRect().top ?? 0;
    heldAt = press?.isOn ? toMm(press.toX, press.toY) : null;
  });
  document.addEventListener("htmx:after:swap", (event) => {
    if (!svg()) return;
    trying.forget();
    standStill();
    const shown = box().dataset.chosen.split(" ").filter(Boolean);
    const isOwn = event.detail?.ctx?.choices !== choices || !shown.length;
    if (!isOwn) { chosen.clear(); for (const ref of shown) chosen.add(ref); }
    else if (shown.join(" ") !== [...chosen].join(" ")) showSelection();
    if (moving) trying.again();
    if (focusedRef && document.activeElement?.dataset?.ref !== focusedRef) linkOf(focusedRef)?.focus({ preventScroll: true });
    paint();
  });

  // What comes above the drawing must not push it away under the hand.
  function standStill() {
    scrollBy(0, svg().getBoundingClientRect().top - stoodAt);
    if (!heldAt || !press?.isOn) return;
    const now = toMm(press.toX, press.toY);
    press.x += now[0] - heldAt[0];
    press.y += now[1] - heldAt[1];
  }

  document.addEventListener("htmx:finally:request", (event) => {
    if (!isByHand(event)) return;
    sends.shift();
    if (!moving) clearLive();
    paint();
  });

  // By pointer.
  // A finger drags what is chosen already; anything else it passes over scrolls, so that nothing moves by chance.
  document.addEventListener("touchstart", (event) => {
    const ref = event.target.closest?.("#layout-drawing a[data-ref]")?.dataset.ref;
    if (event.touches.length === 1 && !isMeasuring() && chosen.has(ref)) event.preventDefault();
  }, { passive: false });

  document.addEventListener("dragstart", (event) => {
    if (event.target.closest?.("#layout-drawing a, .tray-thing")) event.preventDefault();
  });

  const isMeasuring = () => Boolean(box()?.closest("[data-measuring]") ?? box()?.querySelector("[data-measuring]"));

  document.addEventListener("pointerdown", (event) => {
    if (!svg() || isMeasuring()) return;
    if (press) { if (event.pointerId !== press.pointer) endPress(); return; } // a second finger zooms
    if (event.button) return;
    makeKeys();
    const inBox = event.target.closest("#layout-drawing svg");
    const link = inBox && event.target.closest("a[data-ref]");
    const waiting = event.target.closest(".tray-thing .chip-grip")?.closest(".tray-thing");
    const ref = link?.dataset.ref ?? waiting?.dataset.waiting;
    if (!ref && !(inBox && event.pointerType === "mouse" && !event.target.closest("a") && (event.shiftKey || !isZoomed()))) return;
    const [x, y] = toMm(event.clientX, event.clientY);
    press = { ref, isBand: !ref, pointer: event.pointerId, type: event.pointerType, x, y, clientX: event.clientX, clientY: event.clientY, isMore: isPressed(event) || isSeveral, isOn: false, scroll: 0 };
    press.isTap = event.pointerType === "touch" && Boolean(link) && !chosen.has(ref);
    if (waiting) event.preventDefault();
  });

  // Whoever zoomed in draws the drawing about by its ground.
  function isZoomed() {
    const view = svg().viewBox.baseVal, frame = svg().querySelector(".d-frame");
    const [x, y, w, h] = ["x", "y", "width", "height"].map((name) => Number(frame?.getAttribute(name)));
    return x < view.x || y < view.y || x + w > view.x + view.width || y + h > view.y + view.height;
  }

  document.addEventListener("pointermove", (event) => {
    if (!press || event.pointerId !== press.pointer) return;
    if (press.isTap) return;
    Object.assign(press, { toX: event.clientX, toY: event.clientY, isFree: event.altKey });
    if (!press.isOn) {
      if (Math.hypot(press.toX - press.clientX, press.toY - press.clientY) < (DRAG_FROM[press.type] ?? 6)) return;
      if (!beginDrag()) return;
    }
    follow();
    if (!press.isBand && !press.scroll) press.scroll = requestAnimationFrame(scrollAtEdge);
  });

  function beginDrag() {
    if (press.isBand) { press.isOn = true; box().setPointerCapture(press.pointer); return true; }
    const { ref } = press;
    if (placeOf(ref) && isPinned(ref)) { announce(`${ref} ${box().dataset.pinnedWords}`); endPress(); choose([ref]); return false; }
    if (!chosen.has(ref)) choose([ref], press.isMore);
    const from = presentPlace(ref) ? [...chosen].filter((one) => presentPlace(one) && !isPinned(one)) : [ref];
    press.from = new Map(from.map((one) => [one, presentPlace(one) ?? fromTray(one)]).filter(([, place]) => place));
    if (!press.from.size) { endPress(); return false; }
    press.isOn = true;
    const { top, bottom } = svg().getBoundingClientRect();
    press.isLow = top > innerHeight - bottom; // more room above the drawing than below it
    box().setPointerCapture(press.pointer);
    document.body.classList.add("is-dragging");
    getSelection()?.removeAllRanges();
    return true;
  }

  // Something from the tray hangs by its middle on the pointer, in the first turn that it may have.
  function fromTray(ref) {
    const [width, depth] = hand().sizes[ref] ?? [];
    if (!width || !depth) return null;
    const turn = hand().turns[ref]?.[0] ?? 0;
    const [w, d] = turn % 180 ? [depth, width] : [width, depth];
    return { x: Math.round(press.x - w / 2), y: Math.round(press.y - d / 2), w, d, turn };
  }

  function follow() {
    const [x, y] = toMm(press.toX, press.toY);
    if (press.isBand) { paintBand(x, y); return; }
    const rough = shifted(press.from, x - press.x, y - press.y);
    const snap = press.isFree ? { x: 0, y: 0, lines: [] } : globalThis.boardshopSnap(edgesOf(rough), edgesOfRest(), hand(), SNAP / pxPerMm());
    moving = { by: "drag", places: shifted(rough, snap.x, snap.y), lines: snap.lines };
    const goal = goalOf();
    document.querySelector("[data-tray]")?.classList.toggle("is-aimed", goal === "tray");
    trying.lift(innerWidth < 720 ? press.toY > innerHeight / 2 : press.isLow);
    paintGhosts();
    if (goal === "frame") trying.ask(write(moving.places)); else { trying.leave(); clearLive(); }
  }

  // Places are counted from the left and the front edge, and nothing goes beyond those.
  function shifted(places, x, y) {
    const least = (name, by) => Math.max(Math.round(by), -Math.min(...[...places.values()].map((at) => at[name])));
    const [byX, byY] = [least("x", x), least("y", y)];
    return new Map([...places].map(([ref, at]) => [ref, { ...at, x: at.x + byX, y: at.y + byY }]));
  }

  function edgesOf(places) {
    const all = [...places];
    return { bodies: all.map(([, at]) => asBox(at)), plugs: all.flatMap(([ref, at]) => plugsOf(ref, at)) };
  }

  function edgesOfRest() {
    const isUnder = (ref) => hand().under.includes(ref);
    const level = isUnder([...press.from.keys()][0]);
    const rest = links().map((link) => link.dataset.ref).filter((ref) => !press.from.has(ref) && presentPlace(ref) && isUnder(ref) === level);
    return edgesOf(new Map(rest.map((ref) => [ref, presentPlace(ref)])));
  }

  function goalOf() {
    const under = document.elementFromPoint(press.toX, press.toY);
    if (under?.closest("[data-tray]")) return "tray";
    const at = svg().getBoundingClientRect(), around = box().getBoundingClientRect();
    const isIn = (area) => press.toX >= area.left && press.toX <= area.right && press.toY >= area.top && press.toY <= area.bottom;
    return isIn(at) && isIn(around) ? "frame" : "";
  }

  function scrollAtEdge() {
    if (!press?.isOn || press.isBand) return;
    const step = (at, low, high) => (at < low + SCROLL_EDGE ? -SCROLL_STEP : at > high - SCROLL_EDGE ? SCROLL_STEP : 0);
    const { left, right } = box().getBoundingClientRect();
    const y = step(press.toY, 0, innerHeight), x = box().scrollWidth > box().clientWidth ? step(press.toX, left, right) : 0;
    if (x || y) { scrollBy(0, y); box().scrollLeft += x; follow(); }
    press.scroll = x || y ? requestAnimationFrame(scrollAtEdge) : 0;
  }

  function paintBand(x, y) {
    band?.remove();
    const [left, front] = origin();
    const [x0, x1, y0, y1] = [Math.min(x, press.x), Math.max(x, press.x), Math.min(y, press.y), Math.max(y, press.y)];
    press.band = [x0, y0, x1, y1];
    band = element("rect", { class: "d-band", x: left + x0, y: front - y1, width: x1 - x0, height: y1 - y0 }, svg());
  }

  document.addEventListener("pointerup", (event) => {
    if (!press || event.pointerId !== press.pointer) return;
    const done = press, goal = press.isOn && !press.isBand ? goalOf() : "";
    const places = moving?.places;
    endPress(true);
    if (done.isBand) {
      const [x0, y0, x1, y1] = done.band ?? [0, 0, 0, 0];
      const caught = done.isOn ? links().map((link) => link.dataset.ref).filter((ref) => meets(placeOf(ref), x0, y0, x1, y1)) : [];
      if (done.isOn || chosen.size) choose(done.isMore ? [...new Set([...chosen, ...caught])] : caught);
    } else if (!done.isOn) choose([done.ref], done.isMore);
    else if (goal === "frame") send(new Map([...places].map(([ref, at]) => [ref, withSide(ref, at)])));
    else if (goal === "tray") send(new Map([...done.from.keys()].filter(placeOf).map((ref) => [ref, null])));
    else letGo();
  });

  // A supply that comes from the tray is laid on top, where the hand put it.
  const withSide = (ref, at) => (placeOf(ref) || !hand().supplies.includes(ref) ? at : { ...at, flag: "-under" });
  const meets = (at, x0, y0, x1, y1) => at && at.x < x1 && at.x + at.w > x0 && at.y < y1 && at.y + at.d > y0;

  document.addEventListener("pointercancel", (event) => { if (press?.pointer === event.pointerId) endPress(); });

  function endPress(isDone = false) {
    if (!press) return;
    cancelAnimationFrame(press.scroll);
    if (box()?.hasPointerCapture(press.pointer)) box().releasePointerCapture(press.pointer);
    band?.remove();
    band = press = null;
    document.body.classList.remove("is-dragging");
    document.querySelector("[data-tray]")?.classList.remove("is-aimed");
    if (!isDone && moving?.by === "drag") letGo();
  }

  // A thing on the drawing, in the tray or in the list is a link that chooses it, here without loading the page.
  document.addEventListener("click", (event) => {
    const onDrawing = event.target.closest?.("#layout-drawing a[data-ref]");
    const inList = event.target.closest?.("#sheet a[href^='?open=']:not([data-ref])");
    if (event.button || isMeasuring() || (!onDrawing && !inList)) return;
    event.preventDefault();
    const ref = onDrawing?.dataset.ref ?? new URLSearchParams(inList.getAttribute("href").slice(1).split("#")[0]).get("open");
    if (inList || event.detail === 0) choose([ref], isPressed(event) || isSeveral);
    if (inList) document.getElementById("selection")?.scrollIntoView({ block: "nearest" });
  }, true);

  // Buttons that move add up like the keys, however quickly they are pressed.
  document.addEventListener("click", (event) => {
    const button = event.target.closest?.("#several, #sheet [data-nudge]");
    if (!button) return;
    event.preventDefault();
    if (button.dataset.nudge) nudge("", ...button.dataset.nudge.split(" ").map(Number));
    else { isSeveral = !isSeveral; paint(); }
  });

  // By keys.
  let keysTimer = 0;
  let wasMeasuring = false; // before a key ends that, in drawing-view.js
  document.addEventListener("keydown", () => { wasMeasuring = isMeasuring(); }, true);
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape") { escape(event); return; }
    const isTyping = event.target.closest?.("input, select, textarea");
    if ((event.ctrlKey || event.metaKey) && !event.altKey && !isTyping) { stepBack(event); return; }
    const link = event.target.closest?.("#layout-drawing a[data-ref]");
    if (!link || event.ctrlKey || event.metaKey || event.altKey || press) return;
    const ref = link.dataset.ref;
    const buttons = { t: "turn-chosen", T: "turn-chosen", p: "pin-chosen", P: "pin-chosen", Delete: "take-off-chosen", Backspace: "take-off-chosen" };
    if (!ARROWS[event.key] && !buttons[event.key] && event.key !== " ") return;
    event.preventDefault();
    if (event.key === " ") { choose([ref], true); return; }
    if (!chosen.has(ref)) choose([ref]);
    if (buttons[event.key]) { makeKeys(); pressButton(buttons[event.key]); return; }
    nudge(ref, ...ARROWS[event.key].map((by) => by * (event.shiftKey ? 10 : 1)));
  });

  function nudge(ref, x, y) {
    const free = [...chosen].filter((one) => presentPlace(one) && !isPinned(one));
    if (!free.length) { if (ref && presentPlace(ref)) announce(`${ref} ${box().dataset.pinnedWords}`); return; }
    const from = moving?.by === "keys" ? moving.places : new Map(free.map((one) => [one, presentPlace(one)]));
    moving = { by: "keys", places: shifted(from, x, y) };
    paintGhosts();
    trying.ask(write(moving.places), true);
    clearTimeout(keysTimer);
    keysTimer = setTimeout(makeKeys, KEYS_REST);
  }

  function makeKeys() {
    clearTimeout(keysTimer);
    if (moving?.by === "keys") send(moving.places);
  }

  function escape(event) {
    if (wasMeasuring) return;
    clearTimeout(keysTimer);
    if (press?.isOn || moving) { event.preventDefault(); endPress(); if (moving) letGo(); }
    else if (chosen.size && !event.target.closest?.("input, select, textarea, details")) choose([]);
  }

  function stepBack(event) {
    const key = event.key.toLowerCase();
    const id = key === "y" || (key === "z" && event.shiftKey) ? "redo" : key === "z" ? "undo" : "";
    if (id && document.getElementById(id)) { event.preventDefault(); makeKeys(); document.getElementById(id).click(); }
    if (key === "a" && event.target.closest?.("#layout-drawing")) { event.preventDefault(); choose(links().map((link) => link.dataset.ref).filter(placeOf)); }
  }

  for (const ref of box()?.dataset.chosen.split(" ").filter(Boolean) ?? []) chosen.add(ref);
  paint();
})();
