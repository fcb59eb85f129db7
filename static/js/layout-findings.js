// A finding that a pointer or the focus rests on brings out, on the drawing, the things that it is about.
(() => {
  "use strict";

  function point(event) {
    const finding = event.target.closest?.("[data-about]");
    const refs = new Set((finding?.dataset.about ?? "").toLowerCase().split(" ").map((end) => end.split(".")[0]));
    for (const link of document.querySelectorAll(".board-drawing a[data-ref]")) {
      link.classList.toggle("is-pointed", refs.has(link.dataset.ref.toLowerCase()));
    }
    for (const one of document.querySelectorAll("[data-about]")) one.classList.toggle("is-pointed", one === finding);
  }

  function letFocus() {
    for (const one of document.querySelectorAll("[data-about]")) one.tabIndex = 0;
  }

  for (const name of ["pointerover", "focusin"]) document.addEventListener(name, point);
  document.addEventListener("htmx:after:swap", letFocus);
  letFocus();
})();
