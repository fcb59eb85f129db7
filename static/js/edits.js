// What the edit pages need while answers are on their way; every form works without this file.
// A row is sent as soon as a field of it changes; the answer is the whole sheet, which is morphed in place.
(() => {
  "use strict";

  // A request that waited for an earlier one of this page still carries the edit number of before it.
  // Each number that an own edit was posted with leads to the number it came back with; a number that
  // somebody else's edit has overtaken leads nowhere, so that one is refused as it should be.
  const followed = new Map();

  // When each field was last typed in, by a count of all typing; a field leaves when its value was kept.
  const typed = new Map();
  let clock = 0;

  // What each row last sent since something was typed in it, and when that was refused, if it was: Enter
  // changes a field and submits at once, and the second of the two waits for the answer to the first.
  const sent = new WeakMap();

  // Rows of which one half of a pair is typed; data-together names the fields that say nothing alone.
  const halves = new WeakSet();

  // Edits without an answer yet, and the address that was pressed meanwhile.
  const onTheWay = new Set();
  let goingTo = null;

  document.addEventListener("input", (event) => {
    typed.set(event.target, ++clock);
    if (event.target.form) sent.delete(event.target.form);
  });

  document.addEventListener("htmx:before:request", (event) => {
    const ctx = event.detail?.ctx;
    const body = ctx?.request?.body;
    if (!(body instanceof URLSearchParams) || !body.has("edit")) return;
    let edit = body.get("edit");
    while (followed.has(edit)) edit = followed.get(edit);
    const form = ctx.sourceElement?.closest?.("form");
    body.set("edit", "");
    if (form?.matches(".row-form, .move-form")) {
      if (ctx.sourceEvent?.type === "change" && isHalf(form, body)) {
        halves.add(form);
        event.preventDefault();
        return;
      }
      const last = sent.get(form);
      const again = ctx.sourceEvent?.type === "submit" && last?.body === body.toString();
      if (again && ctx.sourceEvent.timeStamp < last.refusedAt) { event.preventDefault(); return; }
      sent.set(form, { body: body.toString(), refusedAt: Infinity });
    }
    body.set("edit", edit);
    Object.assign(ctx, { editSent: edit, editForm: form, clockSent: clock });
    onTheWay.add(ctx);
  });

  // A row that is left with one half is sent all the same: its answer says what is missing.
  document.addEventListener("focusout", (event) => {
    const form = event.target.form;
    if (!halves.has(form) || form.contains(event.relatedTarget)) return;
    halves.delete(form);
    if (isHalf(form, new FormData(form))) form.requestSubmit();
  });

  function isHalf(form, values) {
    const names = form.dataset.together?.split(" ") ?? [];
    const blank = names.filter((name) => !values.get(name)?.trim());
    return blank.length > 0 && blank.length < names.length;
  }

  // Morphing gives a field the value that the answer shows; what was typed since, or elsewhere, is put back.
  const shown = new Map();
  document.addEventListener("htmx:before:swap", () => {
    shown.clear();
    for (const field of typed.keys()) shown.set(field, [field.id, field.value, field.checked]);
  });

  document.addEventListener("htmx:after:swap", (event) => {
    const ctx = event.detail?.ctx;
    const isSent = (field) => ctx?.editForm && field.form === ctx.editForm && typed.get(field) <= ctx.clockSent;
    for (const [field, [id, value, checked]] of shown) {
      if (field.id !== id) typed.delete(field); // now the field of another thing
      if (!typed.has(field) || isSent(field)) continue;
      if (field.value !== value) field.value = value;
      if (field.checked !== checked) field.checked = checked;
    }
    if (!ctx?.editSent || (ctx.response?.status ?? 500) >= 300) return;
    const now = document.getElementById("edit-number")?.value;
    if (Number(now) === Number(ctx.editSent) + 1) followed.set(ctx.editSent, now);
    for (const field of typed.keys()) if (!field.isConnected || isSent(field)) typed.delete(field);
    showKept();
  });

  // An answer that did not come, or that refused the row: sending the same again is meant.
  document.addEventListener("htmx:finally:request", (event) => {
    const ctx = event.detail?.ctx;
    const isKept = (ctx?.response?.status ?? 500) < 300;
    const last = sent.get(ctx?.editForm);
    if (last && !isKept) last.refusedAt = performance.now();
    if (!onTheWay.delete(ctx)) return;
    if (!isKept) goingTo = null;
    setTimeout(() => { if (goingTo && !onTheWay.size) location.assign(goingTo); });
  });

  // Leaving at once would lose the edits that still wait, or show a page from before them; one that is
  // refused keeps the person here.
  document.addEventListener("click", (event) => {
    const link = event.target.closest?.("a[href]");
    const isPlain = !event.defaultPrevented && !event.button && !(event.ctrlKey || event.metaKey || event.shiftKey);
    if (!link || !isPlain || !onTheWay.size || link.matches("[hx-get], [target], [href^='#']")) return;
    event.preventDefault();
    goingTo = new URL(link.getAttribute("href"), location.href).href;
  });

  // Morphing leaves what a person chose in a list or ticked; what was not typed since shows what is kept.
  function showKept() {
    for (const field of document.querySelectorAll("#sheet :is(input, select, textarea)")) {
      if (isTyped(field) || field.type === "hidden" || field.type === "file") continue;
      if (field instanceof HTMLSelectElement) {
        const kept = [...field.options].find((option) => option.defaultSelected) ?? field.options[0];
        if (kept && !kept.selected) kept.selected = true;
      } else if (field.type === "checkbox" || field.type === "radio") {
        if (field.checked !== field.defaultChecked) field.checked = field.defaultChecked;
      } else if (field.value !== field.defaultValue) {
        field.value = field.defaultValue;
      }
    }
  }

  function isTyped(field) {
    if (field.type !== "radio") return typed.has(field);
    return [...typed.keys()].some((one) => one.type === "radio" && one.name === field.name && one.form === field.form);
  }
})();
