// What a page needs beside htmx, and nothing that it cannot do without:
// a plain word when the server could not be reached or failed, the focus kept where it was after a swap,
// changes announced to a screen reader, and a question before typed input is lost.
// Every form and link works without this file.
(() => {
  "use strict";

  const words = () => document.getElementById("words").dataset;

  // One notice at a time: the newest replaces the last one made here.
  function tell(text) {
    const notices = document.getElementById("notices");
    let notice = document.getElementById("notice-of-page");
    if (!notice) {
      notice = document.createElement("p");
      notice.id = "notice-of-page";
      notice.className = "notice is-error";
      notice.setAttribute("role", "alert");
      notices.append(notice);
    }
    notice.textContent = text;
    notice.scrollIntoView({ block: "nearest" });
  }

  function forgetNotice() {
    document.getElementById("notice-of-page")?.remove();
  }

  // A fragment names what to read out in [data-announce]: as a rule the finding counts.
  function announce(within) {
    const said = within?.querySelector?.("[data-announce]") ?? document.querySelector("main [data-announce]");
    if (!said) return;
    const announcer = document.getElementById("announcer");
    announcer.textContent = said.textContent.replace(/\s+/g, " ").trim();
  }

  // htmx gives the focus back by id; this does it by form and name, for fields that have no id of their own.
  let focused = null;
  function rememberFocus() {
    const field = document.activeElement;
    if (!field || field === document.body) { focused = null; return; }
    focused = { id: field.id, name: field.name, action: field.form?.getAttribute("action") };
  }
  function restoreFocus() {
    const active = document.activeElement;
    if (!focused || (active && active !== document.body && !active.disabled)) return;
    const byId = focused.id && document.getElementById(focused.id);
    const byName = focused.name && focused.action && [...document.forms]
      .find((form) => form.getAttribute("action") === focused.action)?.elements.namedItem(focused.name);
    const field = byId || byName;
    // A button that can do no more hands over to its neighbour, as "earlier" does to "later" at the first place.
    const all = [...(field?.form?.elements ?? [])];
    const at = all.indexOf(field);
    const others = field?.disabled ? [...all.slice(at + 1), ...all.slice(0, at)] : [field];
    others.find((one) => !one?.disabled && one?.type !== "hidden")?.focus?.({ preventScroll: true });
  }

  document.addEventListener("htmx:before:swap", rememberFocus);
  document.addEventListener("htmx:after:swap", (event) => {
    restoreFocus();
    announce(event.detail?.ctx?.target);
  });
  document.addEventListener("htmx:after:request", (event) => {
    const status = event.detail?.ctx?.response?.status ?? 0;
    if (status && status < 400) forgetNotice();
  });
  document.addEventListener("htmx:response:error", (event) => {
    const status = event.detail?.ctx?.response?.status ?? 0;
    if (status >= 500 || status === 413 || status === 429) tell(words().failed);
    else if (status === 403 || status === 404) tell(words().gone);
  });
  document.addEventListener("htmx:error", (event) => {
    // Only a request that got no answer; other errors are ours to find in the console.
    if (event.detail?.ctx && !event.detail.ctx.response) tell(words().offline);
  });

  // A double click: a form with the same input goes once while it has no answer.
  const sending = new Map();
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (form.method !== "post") return;
    const input = JSON.stringify([...new FormData(form, event.submitter)]);
    if (sending.get(form) === input) {
      event.preventDefault();
      event.stopImmediatePropagation();
      return;
    }
    sending.set(form, input);
    // A whole page that is sent for may be called off by the person, who then presses again.
    setTimeout(() => sending.delete(form), form.hasAttribute("hx-post") ? 60000 : 5000);
  }, true);
  document.addEventListener("htmx:finally:request", (event) => {
    const form = event.detail?.ctx?.sourceElement?.closest?.("form");
    sending.delete(form);
  });
  window.addEventListener("pageshow", () => sending.clear());

  // Typed but not sent: the browser asks before the page goes away.
  const typed = new Set();
  document.addEventListener("input", (event) => {
    const form = event.target.form;
    if (form && form.method === "post" && !("noGuard" in form.dataset)) typed.add(form);
  });
  document.addEventListener("submit", (event) => typed.delete(event.target));
  document.addEventListener("reset", (event) => typed.delete(event.target));
  document.addEventListener("htmx:after:request", (event) => {
    const source = event.detail?.ctx?.sourceElement;
    const status = event.detail?.ctx?.response?.status ?? 0;
    const form = source?.closest?.("form") ?? source?.form;
    if (form && status && status < 400) typed.delete(form);
  });
  window.addEventListener("beforeunload", (event) => {
    for (const form of typed) if (!form.isConnected) typed.delete(form);
    if (typed.size) event.preventDefault();
  });

  // A page that the browser kept is not shown again after its person signed out: it is asked for anew.
  // A signed-out page notes when it was shown; local storage may be switched off, which then changes nothing.
  const LEFT = "boardshop-signed-out";
  const shownAt = Date.now();
  const isSignedIn = document.body.hasAttribute("data-signed-in");
  try {
    if (!isSignedIn) localStorage.setItem(LEFT, String(shownAt));
  } catch { /* no storage */ }
  window.addEventListener("pageshow", (event) => {
    try {
      if (!event.persisted || !isSignedIn || Number(localStorage.getItem(LEFT)) < shownAt) return;
    } catch { return; }
    document.body.hidden = true;
    location.reload();
  });

  // A menu closes with Escape or a press elsewhere, as menus do.
  document.addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    const menu = document.querySelector("details.person[open]");
    if (menu) { menu.open = false; menu.querySelector("summary").focus(); }
  });
  document.addEventListener("click", (event) => {
    const menu = document.querySelector("details.person[open]");
    if (menu && !menu.contains(event.target)) menu.open = false;
  });
})();
