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

  // What each row last sent since something was typed in it: Enter changes a field and submits at once.
  const sent = new WeakMap();

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
    if (form?.classList.contains("row-form")) {
      const again = ctx.sourceEvent?.type === "submit" && sent.get(form) === body.toString();
      if (again) { event.preventDefault(); return; }
      sent.set(form, body.toString());
    }
    body.set("edit", edit);
    Object.assign(ctx, { editSent: edit, editForm: form, clockSent: clock });
  });

  document.addEventListener("htmx:after:swap", (event) => {
    const ctx = event.detail?.ctx;
    if (!ctx?.editSent || (ctx.response?.status ?? 500) >= 300) return;
    const now = document.getElementById("edit-number")?.value;
    if (Number(now) === Number(ctx.editSent) + 1) followed.set(ctx.editSent, now);
    for (const [field, when] of typed) {
      if (!field.isConnected || (field.form === ctx.editForm && when <= ctx.clockSent)) typed.delete(field);
    }
    showKept();
  });

  // An answer that did not come, or that refused the row: sending the same again is meant.
  document.addEventListener("htmx:finally:request", (event) => {
    const ctx = event.detail?.ctx;
    if (ctx?.editForm && (ctx.response?.status ?? 500) >= 300) sent.delete(ctx.editForm);
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
