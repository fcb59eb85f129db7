// The drawing of the layout page, as its script reads it and paints on it: where things lie in mm, the ghosts of
// those that are moved, the lines they snap to, and the marks of what would be found.
globalThis.boardshopDrawing = (() => {
  "use strict";

  const SVG = "http://www.w3.org/2000/svg";
  const box = () => document.getElementById("layout-drawing");
  const svg = () => box()?.querySelector("svg.board-drawing");
  const links = () => [...(svg()?.querySelectorAll("a[data-ref]") ?? [])];
  const linkOf = (ref) => svg()?.querySelector(`a[data-ref="${CSS.escape(ref)}"]`);
  const partOf = (ref) => svg()?.querySelector(`[data-part="${CSS.escape(ref)}"]`);

  let handText = "", handRead = null;
  function hand() {
    const text = box().dataset.hand;
    if (text !== handText) { handText = text; handRead = JSON.parse(text); }
    return handRead;
  }

  function placeOf(ref) {
    const data = linkOf(ref)?.dataset;
    if (!data || data.x === undefined) return null;
    return { x: Number(data.x), y: Number(data.y), w: Number(data.w), d: Number(data.d), turn: Number(data.turn) };
  }
  const asBox = (place, x = 0, y = 0) => [place.x + x, place.y + y, place.x + x + place.w, place.y + y + place.d];

  function origin() {
    const { originX, originY } = svg().dataset;
    return [Number(originX), Number(originY)];
  }
  function toMm(clientX, clientY) {
    const point = new DOMPoint(clientX, clientY).matrixTransform(svg().getScreenCTM().inverse());
    const [left, front] = origin();
    return [point.x - left, front - point.y];
  }
  const pxPerMm = () => svg().getScreenCTM().a;

  function plugsOf(ref, place) {
    const [left, front] = origin(), now = placeOf(ref);
    if (!now || now.turn !== place.turn) return [];
    return [...(partOf(ref)?.querySelectorAll(".d-plug") ?? [])].map((plug) => {
      const [x, y, w, h] = ["x", "y", "width", "height"].map((name) => Number(plug.getAttribute(name)));
      const x0 = Math.round(x - left) - now.x + place.x, y0 = Math.round(front - y - h) - now.y + place.y;
      return [x0, y0, x0 + Math.round(w), y0 + Math.round(h)];
    });
  }

  function element(name, attributes, parent) {
    const made = document.createElementNS(SVG, name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    parent?.append(made);
    return made;
  }

  // `places` by ref, null for what is taken off; `lines` are what it snaps to.
  function drawGhosts(places, lines) {
    svg().querySelector(".d-ghosts")?.remove();
    for (const one of svg().querySelectorAll(".is-away")) one.classList.remove("is-away");
    const layer = element("g", { class: "d-ghosts", "aria-hidden": "true" });
    for (const [ref, place] of places) paintGhost(layer, ref, place);
    svg().classList.toggle("is-shifting", layer.childElementCount > 0);
    svg().append(layer);
    for (const line of lines) paintLine(layer, line);
  }

  function paintGhost(layer, ref, place) {
    const now = placeOf(ref), link = linkOf(ref);
    if (now && place && now.x === place.x && now.y === place.y && now.turn === place.turn) return;
    if (!now && !place) return;
    for (const one of [partOf(ref), link]) one?.classList.add("is-away");
    if (!place) { element("g", {}, layer); return; }
    const ghost = element("g", { class: "d-ghost-body" }, layer);
    if (now && now.turn === place.turn) {
      ghost.setAttribute("transform", `translate(${place.x - now.x} ${now.y - place.y})`);
      for (const from of [partOf(ref), link]) for (const child of from?.children ?? []) ghost.append(child.cloneNode(true));
      for (const one of ghost.querySelectorAll("title, [data-ref]")) one.tagName === "title" ? one.remove() : one.removeAttribute("data-ref");
      return;
    }
    const [left, front] = origin();
    const at = { x: left + place.x, y: front - place.y - place.d, width: place.w, height: place.d };
    element("rect", { class: "d-body is-selected", ...at }, ghost);
    const size = Math.min(place.w, place.d) / 3;
    element("text", { class: "d-number", x: at.x + place.w / 2, y: at.y + place.d / 2 + size / 3, "text-anchor": "middle", "font-size": size }, ghost).textContent = ref;
  }

  function paintLine(layer, { axis, at }) {
    const [left, front] = origin(), [width, depth] = hand().frame, over = 14;
    const ends = axis === 0
      ? { x1: left + at, x2: left + at, y1: front + over, y2: front - depth - over }
      : { x1: left - over, x2: left + width + over, y1: front - at, y2: front - at };
    element("line", { class: "d-guide", ...ends }, layer);
  }

  // The marks of what would be found, in place of those of what is.
  function showLive(marks) {
    clearLive();
    const layer = element("g", { class: "d-live", "aria-hidden": "true", transform: `translate(${origin().join(" ")})` }, svg());
    layer.append(...marks.map((one) => document.importNode(one, true)));
    svg().classList.add("is-tried");
  }

  function clearLive() {
    svg()?.querySelector(".d-live")?.remove();
    svg()?.classList.remove("is-tried");
  }

  return { box, svg, links, linkOf, partOf, hand, placeOf, asBox, origin, toMm, pxPerMm, plugsOf, element, drawGhosts, showLive, clearLive };
})();
