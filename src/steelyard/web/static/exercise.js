// The exercise page: one big button counts the pulls, so that nothing need be typed with greasy hands.
"use strict";
(() => {
  const button = document.querySelector("[data-count]");
  if (!button) return;
  const field = document.getElementById(button.dataset.count);
  const shown = document.querySelector("[data-count-shown]");
  const digits = shown.querySelector(".reading-digits");

  const show = () => {
    digits.textContent = field.value || "0";
    digits.dataset.digits = String(digits.textContent.length);
  };
  button.hidden = false;
  shown.hidden = false;
  button.addEventListener("click", () => {
    field.value = String((Number.parseInt(field.value, 10) || 0) + 1);
    show();
  });
  field.addEventListener("input", show);
  show();
})();
