// The exercise page: one big button counts the pulls, so that nothing need be typed with greasy hands.
(() => {
  const button = document.querySelector("[data-count]");
  if (!button) return;
  const field = document.getElementById(button.dataset.count);
  button.hidden = false;
  button.addEventListener("click", () => {
    field.value = String((Number.parseInt(field.value, 10) || 0) + 1);
  });
})();
