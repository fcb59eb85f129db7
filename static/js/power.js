// The power page: a plug is moved by dragging its pedal onto an outlet, or with the arrow keys on the pedal.
// What would be is asked of the server and told before it is done; each way then fills in and sends the form of
// the jack's own row, which works without this file.
(() => {
  "use strict";

  const SCROLL_EDGE = 56;  // px from the window's edge within which a drag scrolls
  const SCROLL_STEP = 6;
  const NARROW = 720;      // px of a window in which what is told would lie under the finger
  const DRAG_FROM = 6;     // px that a pointer moves before a press on a pedal is a drag
  const REST = 90;         // ms that an aim rests before the server is asked about it
  const UNFED = "unfed";

  let drag = null;
  let aimed = null;        // { jack, value } that is being asked about
  let asking = null;       // the request on its way
  const told = new Map();  // answers by address, for one state of the board

  const formOf = (jack) => document.querySelector(`form.feed-form[data-for="${CSS.escape(jack)}"]`);
  const selectOf = (jack) => formOf(jack)?.elements.outlet;
  const choicesOf = (jack) => [...(selectOf(jack)?.options ?? [])].map((one) => one.value).filter((one) => one && one !== UNFED);
  const keptOf = (jack) => [...(selectOf(jack)?.options ?? [])].find((one) => one.defaultSelected)?.value ?? "";
  const outletOf = (value) => value.slice(0, value.lastIndexOf("@"));
  const sheetNumber = () => document.getElementById("edit-number")?.value;

  // What would be.
  function aim(jack, value) {
    if (aimed?.jack === jack && aimed.value === value) return;
    forget();
    aimed = { jack, value };
    if (value === UNFED) document.querySelector("[data-tray]")?.classList.add("is-aimed");
    else document.querySelector(`[data-outlet="${CSS.escape(outletOf(value))}"]`)?.classList.add("is-aimed");
    aimed.timer = setTimeout(() => ask(jack, value), REST);
  }

  async function ask(jack, value) {
    const address = `${formOf(jack)?.dataset.try}?outlet=${encodeURIComponent(value)}`;
    const key = `${sheetNumber()} ${address}`;
    if (!told.has(key)) {
      asking = new AbortController();
      try {
        const answer = await fetch(address, { headers: { "HX-Request": "true" }, signal: asking.signal });
        if (answer.status !== 200 && answer.status !== 422) return;
        told.set(key, await answer.text());
      } catch { return; } // left, or no answer: the move itself says what is wrong
    }
    if (aimed?.jack === jack && aimed.value === value) show(told.get(key));
  }

  function show(html) {
    const place = document.getElementById("trying");
    if (!place) return;
    place.replaceChildren(...new DOMParser().parseFromString(html, "text/html").body.childNodes);
    place.hidden = false;
    const said = place.querySelector("[data-said]");
    if (said && !drag) document.getElementById("announcer").textContent = said.textContent.replace(/\s+/g, " ").trim();
  }

  function forget() {
    clearTimeout(aimed?.timer);
    asking?.abort();
    aimed = asking = null;
    for (const one of document.querySelectorAll(".is-aimed")) one.classList.remove("is-aimed");
  }

  function leave() {
    forget();
    document.documentElement.classList.remove("is-trying");
    const place = document.getElementById("trying");
    if (place) place.hidden = true;
  }

  function send(jack, value) {
    const form = formOf(jack);
    leave();
    if (!form || value === keptOf(jack) || ![...form.elements.outlet.options].some((one) => one.value === value)) return;
    form.elements.outlet.value = value;
    form.requestSubmit();
  }

  // By keys, on a pedal.
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape") {
      if (drag) end();
      else if (aimed) leave();
      return;
    }
    const jack = event.target.closest?.(".chip[data-jack]")?.dataset.jack;
    if (!jack || event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
    const by = { ArrowUp: -1, ArrowLeft: -1, ArrowDown: 1, ArrowRight: 1 }[event.key];
    if (by) {
      event.preventDefault();
      step(jack, by);
    } else if (event.key === "Enter" && aimed?.jack === jack) {
      event.preventDefault();
      send(jack, aimed.value);
    }
  });

  function step(jack, by) {
    const choices = choicesOf(jack);
    if (!choices.length) return;
    const at = choices.indexOf(aimed?.jack === jack ? aimed.value : keptOf(jack));
    const next = at < 0 ? (by < 0 ? choices.length - 1 : 0) : (at + by + choices.length) % choices.length;
    document.documentElement.classList.add("is-trying");
    aim(jack, choices[next]);
    document.querySelector(".outlet.is-aimed")?.scrollIntoView({ block: "nearest" });
  }

  // By choosing in a row: told when it is chosen, done by its button.
  document.addEventListener("change", (event) => {
    const form = event.target.closest?.("form.feed-form");
    if (!form || event.target.name !== "outlet") return;
    if (event.target.value) aim(form.dataset.for, event.target.value);
    else leave();
  });
  document.addEventListener("submit", leave);

  document.addEventListener("focusout", (event) => {
    const to = event.relatedTarget;
    if (drag || !to || !event.target.closest?.(".chip, form.feed-form, #trying")) return;
    if (!to.closest("#trying") && !event.target.closest("form.feed-form")?.contains(to)) leave();
  });

  // By drag.
  document.addEventListener("pointerdown", (event) => {
    if (event.button || drag) return;
    const chip = event.target.closest(".chip[data-jack]");
    const isMouse = event.pointerType === "mouse";
    if (!chip || !formOf(chip.dataset.jack) || (!isMouse && !event.target.closest(".chip-grip"))) return;
    drag = { jack: chip.dataset.jack, chip, pointer: event.pointerId, startX: event.clientX, startY: event.clientY, x: event.clientX, y: event.clientY, isOn: false, value: "", scroll: 0, ghost: null };
    if (!isMouse) chip.setPointerCapture(event.pointerId);
  });

  document.addEventListener("dragstart", (event) => {
    if (event.target.closest?.(".chip[data-jack]")) event.preventDefault();
  });

  document.addEventListener("pointermove", (event) => {
    if (!drag || event.pointerId !== drag.pointer) return;
    drag.x = event.clientX;
    drag.y = event.clientY;
    if (!drag.isOn) {
      if (Math.hypot(drag.x - drag.startX, drag.y - drag.startY) < DRAG_FROM) return;
      begin();
    }
    follow();
    if (!drag.scroll) drag.scroll = requestAnimationFrame(scrollAtEdge);
  });

  function begin() {
    drag.isOn = true;
    drag.chip.classList.add("is-moving");
    drag.ghost = drag.chip.cloneNode(true);
    drag.ghost.removeAttribute("id");
    drag.ghost.classList.add("is-ghost");
    drag.ghost.setAttribute("aria-hidden", "true");
    drag.ghost.tabIndex = -1;
    document.body.append(drag.ghost);
    document.body.classList.add("is-dragging");
    getSelection()?.removeAllRanges();
  }

  function follow() {
    drag.ghost.style.transform = `translate(${drag.x + 8}px, ${drag.y + 8}px)`;
    const isLow = innerWidth < NARROW && drag.y > innerHeight / 2;
    document.getElementById("trying")?.classList.toggle("is-high", isLow);
    const under = document.elementFromPoint(drag.x, drag.y);
    const outlet = under?.closest("[data-outlet]")?.dataset.outlet;
    const kept = keptOf(drag.jack);
    if (outlet) drag.value = outletOf(kept) === outlet ? kept : choicesOf(drag.jack).find((one) => outletOf(one) === outlet) ?? "";
    else drag.value = under?.closest("[data-tray]") ? UNFED : "";
    if (drag.value && drag.value !== kept && selectHas(drag.jack, drag.value)) aim(drag.jack, drag.value);
    else leave();
  }

  const selectHas = (jack, value) => [...(selectOf(jack)?.options ?? [])].some((one) => one.value === value);

  function scrollAtEdge() {
    if (!drag?.isOn) return;
    const by = drag.y < SCROLL_EDGE ? -SCROLL_STEP : drag.y > innerHeight - SCROLL_EDGE ? SCROLL_STEP : 0;
    if (by) { scrollBy(0, by); follow(); }
    drag.scroll = by ? requestAnimationFrame(scrollAtEdge) : 0;
  }

  document.addEventListener("pointerup", (event) => {
    if (!drag || event.pointerId !== drag.pointer) return;
    const { jack, value, isOn } = drag;
    end();
    if (!isOn) return;
    suppressClick();
    if (value) send(jack, value);
  });

  document.addEventListener("pointercancel", (event) => { if (drag?.pointer === event.pointerId) end(); });

  function end() {
    leave();
    cancelAnimationFrame(drag.scroll);
    drag.ghost?.remove();
    drag.chip.classList.remove("is-moving");
    document.body.classList.remove("is-dragging");
    document.getElementById("trying")?.classList.remove("is-high");
    drag = null;
  }

  // The pedal that was dragged is a link, which is not followed as well.
  function suppressClick() {
    const stop = (event) => event.preventDefault();
    addEventListener("click", stop, { capture: true, once: true });
    setTimeout(() => removeEventListener("click", stop, { capture: true }));
  }
})();
