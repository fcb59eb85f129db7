// The cables page: a press on a cable or a pedal of the drawing fetches what is chosen without loading the page
// anew.  The links of the drawing lead to the same place without this file.
(() => {
  "use strict";

  document.addEventListener("click", (event) => {
    const link = event.target.closest?.("#cables-drawing svg a[href]");
    if (!link || event.button || event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
    const address = new URL(link.getAttribute("href"), location.href);
    if (address.pathname !== location.pathname || !address.searchParams.has("run")) return;
    event.preventDefault();
    history.replaceState(null, "", address);
    htmx.ajax("GET", address.pathname + address.search, { target: "#sheet", swap: "innerMorph" });
  });
})();
