// Light or dark, kept on this device; the present step in sight; says to the style that a script runs.
// Every page works without it.
"use strict";
(() => {
  const root = document.documentElement;
  root.classList.add("js");

  const kept = () => {
    try {
      const theme = localStorage.getItem("steelyard-theme");
      return theme === "light" || theme === "dark" ? theme : "system";
    } catch {
      return "system"; // storage refused: the system's choice stands
    }
  };
  const keep = (theme) => {
    try {
      localStorage.setItem("steelyard-theme", theme);
    } catch {
      // the choice holds for this page only
    }
  };
  const show = (theme) => {
    if (theme === "system") delete root.dataset.theme;
    else root.dataset.theme = theme;
    for (const radio of document.querySelectorAll('.theme-choice input[name="theme"]')) {
      radio.checked = radio.value === theme;
    }
  };

  const showStep = () => {
    const row = document.querySelector(".steps ol");
    const step = row?.querySelector('[aria-current="step"]');
    if (step) row.scrollLeft = step.offsetLeft - row.offsetLeft - (row.clientWidth - step.offsetWidth) / 2;
  };

  show(kept()); // before the first paint
  document.addEventListener("DOMContentLoaded", () => {
    show(kept());
    showStep();
  });
  document.addEventListener("htmx:after:swap", showStep);
  document.addEventListener("submit", (event) => {
    const button = event.submitter;
    if (!button?.dataset.busy || event.defaultPrevented) return;
    button.textContent = button.dataset.busy; // what takes a while says so; the browser's stop ends it
    button.setAttribute("aria-busy", "true");
  });
  window.addEventListener("storage", () => show(kept()));
  document.addEventListener("change", (event) => {
    if (!event.target.matches('.theme-choice input[name="theme"]')) return;
    keep(event.target.value);
    show(event.target.value);
  });
})();
