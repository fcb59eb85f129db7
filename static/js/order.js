// The order page: a pedal is moved by dragging its grip or its stop in the strip, or with the arrow keys on them.
// Each way fills in and sends the row's own form, which works without this file.
(() => {
  "use strict";

  const SCROLL_EDGE = 56;  // px from the window's edge within which a drag scrolls
  const SCROLL_STEP = 14;
  const DRAG_FROM = 6;     // px that a pointer moves before a press on a link is a drag

  // One move at a time: a key pressed while an answer is on its way waits for it, since it says where from.
  let isBusy = false;
  const waiting = [];
  let drag = null;

  const rowOf = (ref) => document.querySelector(`#order-rows [data-ref="${CSS.escape(ref)}"]`);
  const formOf = (ref) => rowOf(ref)?.querySelector("form.move-form");

  // Line number -> the refs along it, a switcher again each time it is passed.
  function readLines() {
    const said = document.getElementById("order-rows")?.dataset.stops ?? "";
    return new Map(said.split(";").filter(Boolean).map((line) => {
      const [number, refs] = line.split(":");
      return [number, refs.split(" ")];
    }));
  }

  function send(ref, line, position) {
    const form = formOf(ref);
    if (!form) return;
    isBusy = true;
    form.elements.line.value = line;
    form.elements.position.value = position;
    form.requestSubmit();
  }

  function step(ref, by) {
    if (isBusy) { waiting.push([ref, by]); return; }
    const button = document.getElementById(`${by < 0 ? "earlier" : "later"}-${ref}`);
    const form = formOf(ref);
    if (button && form && !button.disabled) send(ref, form.elements.line.value, button.value);
  }

  document.addEventListener("htmx:finally:request", () => {
    isBusy = false;
    const next = waiting.shift();
    if (next) setTimeout(() => step(...next));
  });

  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && drag) { end(); return; }
    const by = { ArrowUp: -1, ArrowLeft: -1, ArrowDown: 1, ArrowRight: 1 }[event.key];
    if (!by || event.altKey || event.ctrlKey || event.metaKey) return;
    const grip = event.target.closest?.(".grip");
    const stop = event.shiftKey ? event.target.closest?.("[data-strip] [data-ref]") : null;
    const ref = (grip?.closest("[data-ref]") ?? stop)?.dataset.ref;
    if (!ref || !formOf(ref)) return;
    event.preventDefault();
    step(ref, by);
  });

  // Dragging.
  document.addEventListener("pointerdown", (event) => {
    if (event.button || drag) return;
    const grip = event.target.closest(".grip");
    const stop = event.pointerType === "mouse" ? event.target.closest("[data-strip] [data-ref]") : null;
    const from = grip?.closest("[data-ref]") ?? stop;
    if (!from || !formOf(from.dataset.ref)) return;
    drag = {
      ref: from.dataset.ref, from, strip: grip ? null : stop.closest("[data-strip]"), pointer: event.pointerId,
      x: event.clientX, y: event.clientY, isOn: Boolean(grip), target: null, isAfter: false, scroll: 0,
    };
    if (grip) { grip.setPointerCapture(event.pointerId); from.classList.add("is-moving"); event.preventDefault(); grip.focus(); }
  });

  document.addEventListener("dragstart", (event) => {
    if (event.target.closest?.("[data-strip]")) event.preventDefault();
  });

  document.addEventListener("pointermove", (event) => {
    if (!drag || event.pointerId !== drag.pointer) return;
    if (!drag.isOn) {
      if (Math.hypot(event.clientX - drag.x, event.clientY - drag.y) < DRAG_FROM) return;
      drag.isOn = true;
      drag.from.classList.add("is-moving");
    }
    drag.x = event.clientX;
    drag.y = event.clientY;
    aim();
    if (!drag.scroll) drag.scroll = requestAnimationFrame(scrollAtEdge);
  });

  function scrollAtEdge() {
    if (!drag?.isOn) return;
    const by = drag.y < SCROLL_EDGE ? -SCROLL_STEP : drag.y > innerHeight - SCROLL_EDGE ? SCROLL_STEP : 0;
    if (by) { scrollBy(0, by); aim(); }
    drag.scroll = by ? requestAnimationFrame(scrollAtEdge) : 0;
  }

  // The row or stop under the pointer, and whether the pedal would stand behind it.
  function aim() {
    unmark();
    const all = drag.strip
      ? [...drag.strip.querySelectorAll("[data-ref]")]
      : [...document.querySelectorAll("#order-rows > .row[data-line]")];
    const boxes = all.map((one) => [one, one.getBoundingClientRect()]);
    const found = drag.strip
      ? boxes.find(([, box]) => drag.x >= box.left && drag.x <= box.right && drag.y >= box.top && drag.y <= box.bottom)
      : boxes.find(([, box]) => drag.y <= box.bottom) ?? boxes.at(-1);
    if (!found) return;
    const [target, box] = found;
    const isAfter = drag.strip ? drag.x > box.left + box.width / 2 : drag.y > box.top + box.height / 2;
    Object.assign(drag, { target, isAfter });
    if (target !== drag.from) target.classList.add(isAfter ? "drops-behind" : "drops-before");
  }

  function unmark() {
    for (const one of document.querySelectorAll(".drops-before, .drops-behind")) one.classList.remove("drops-before", "drops-behind");
    if (drag) drag.target = null;
  }

  document.addEventListener("pointerup", (event) => {
    if (!drag || event.pointerId !== drag.pointer) return;
    const { ref, target, isAfter, isOn, strip } = drag;
    end();
    if (!isOn) return;
    if (strip) suppressClick();
    if (!target || target.dataset.ref === ref) return;
    const line = strip ? strip.dataset.strip : target.dataset.line;
    const stops = readLines().get(line) ?? [];
    const others = stops.filter((stop) => stop !== ref);
    const position = others.indexOf(target.dataset.ref) + (isAfter ? 2 : 1);
    if (position > 0 && stops.indexOf(ref) !== position - 1) send(ref, line, position);
  });

  document.addEventListener("pointercancel", (event) => { if (drag?.pointer === event.pointerId) end(); });

  function end() {
    unmark();
    cancelAnimationFrame(drag.scroll);
    drag.from.classList.remove("is-moving");
    drag = null;
  }

  // The link that was dragged is not followed as well.
  function suppressClick() {
    const stop = (event) => event.preventDefault();
    addEventListener("click", stop, { capture: true, once: true });
    setTimeout(() => removeEventListener("click", stop, { capture: true }));
  }
})();
