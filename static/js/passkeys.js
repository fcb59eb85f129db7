// Lets the browser ask for a passkey, or make one, and sends what it gives with the form that asked.
// A form says which by data-passkey="get" or "create"; what the server wants stands in the JSON element that
// data-options names, or is fetched from the form's address.
(() => {
  "use strict";

  function say(form, text) {
    const place = form.querySelector("[data-said]");
    place.hidden = !text;
    place.textContent = text;
  }

  async function wanted(form) {
    const element = document.getElementById(form.dataset.options);
    if (element) return JSON.parse(element.textContent);
    const answer = await fetch(form.action, { headers: { Accept: "application/json" } });
    if (!answer.ok) throw new Error(`${answer.status} from ${form.action}`);
    return (await answer.json()).request_options;
  }

  // The names of the errors are those of Web Authentication, sections 5.1.3 and 5.1.4.
  function reason(form, error) {
    const { cancelled, known, failed } = form.dataset;
    if (error.name === "NotAllowedError" || error.name === "AbortError") return cancelled;
    if (error.name === "InvalidStateError" && known) return known;
    return `${failed} (${error.message || error.name})`;
  }

  // What is typed or ticked in the page's other form goes along, as it stands there now.
  function copyFields(form) {
    for (const name of form.dataset.copies?.split(" ") ?? []) {
      const field = document.querySelector(`form:not([data-passkey]) [name="${name}"]`);
      if (!field) continue;
      const copy = form.elements[name] ?? form.appendChild(Object.assign(document.createElement("input"), { type: "hidden", name }));
      copy.value = field.type === "checkbox" ? (field.checked ? "on" : "") : field.value;
    }
  }

  async function ask(form) {
    const button = form.querySelector("button");
    say(form, "");
    button.disabled = true;
    try {
      const given = await webauthnJSON[form.dataset.passkey](await wanted(form));
      form.elements.credential.value = JSON.stringify(given);
      copyFields(form);
      form.submit();
    } catch (error) {
      say(form, reason(form, error));
      button.disabled = false;
    }
  }

  document.addEventListener("submit", (event) => {
    const form = event.target.closest("form[data-passkey]");
    if (!form) return;
    event.preventDefault();
    ask(form);
  });
})();
