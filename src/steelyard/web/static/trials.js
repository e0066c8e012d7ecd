// The page of yes/no trials and the page of pouring while they are alive: keys answer, a second window is told.
// Without it both are forms.
"use strict";
(() => {
  const here = document.getElementById("trial");
  const keys = Object.fromEntries(
    [...here.querySelectorAll("button[data-key]")].map((button) => [button.dataset.key, button]));
  const CONTROLS = "a[href], button, input, select, textarea, summary, [tabindex]:not([tabindex='-1'])";

  document.addEventListener("keydown", (event) => {
    if (event.defaultPrevented || event.repeat || event.ctrlKey || event.altKey || event.metaKey) return;
    if (document.activeElement?.matches(CONTROLS)) return;
    const button = keys[event.key.toLowerCase()];
    if (!button || button.closest("details:not([open])")) return;
    event.preventDefault();
    button.form.requestSubmit(button);
  });

  const live = new PullLive(here.dataset.check, () => {
    const room = document.getElementById("trial-new");
    if (live.last <= Number(here.dataset.seen) || room.firstChild) return;
    room.replaceChildren(document.getElementById("trial-new-note").content.cloneNode(true));
  });
})();
