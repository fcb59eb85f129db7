// What would be found if things lay elsewhere, asked of the server while they are moved: told at the foot of the
// window and marked on the drawing.
globalThis.boardshopTrying = (() => {
  "use strict";

  const REST = 90;         // ms that a place rests before the server is asked about it
  const { box, showLive } = globalThis.boardshopDrawing;

  let asked = "";          // the places that are being asked about
  let isSpoken = false;    // whether the answer is read out
  let timer = 0;
  let asking = null;       // the request on its way
  const told = new Map();  // answers by edit number and places

  const place = () => document.getElementById("trying");

  function ask(text, aloud = false) {
    if (text === asked) return;
    asked = text;
    isSpoken = aloud;
    clearTimeout(timer);
    asking?.abort();
    timer = setTimeout(() => fetchTold(text), REST);
  }

  async function fetchTold(text) {
    const key = `${document.getElementById("edit-number")?.value} ${text}`;
    if (!told.has(key)) {
      asking = new AbortController();
      try {
        const address = `${box().dataset.try}?place=${encodeURIComponent(text)}`;
        const answer = await fetch(address, { headers: { "HX-Request": "true" }, signal: asking.signal });
        if (answer.status !== 200 && answer.status !== 422) return;
        told.set(key, await answer.text());
      } catch { return; } // left, or no answer: the move itself says what is wrong
    }
    if (asked === text) tell(told.get(key));
  }

  function tell(html) {
    const found = new DOMParser().parseFromString(html, "text/html").body;
    const marks = found.querySelector("svg[data-live]");
    showLive(marks ? [...marks.childNodes] : []);
    marks?.remove();
    if (!place()) return;
    place().replaceChildren(...found.childNodes);
    place().hidden = false;
    const said = place().querySelector("[data-said]");
    if (said && isSpoken) document.getElementById("announcer").textContent = said.textContent.replace(/\s+/g, " ").trim();
  }

  function leave() {
    clearTimeout(timer);
    asking?.abort();
    asked = "";
    if (place()) { place().hidden = true; place().classList.remove("is-high"); }
  }

  // The board has changed under what is asked about.
  const again = () => { if (asked) fetchTold(asked); };
  const forget = () => told.clear();
  // Away from the finger.
  const lift = (isHigh) => place()?.classList.toggle("is-high", isHigh);

  return { ask, leave, again, forget, lift };
})();
