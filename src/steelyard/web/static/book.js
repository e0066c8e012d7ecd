// The book on paper: a button that prints, and everything folded opened for the print.
// Without it the browser's own print works the same where it opens folded parts by itself.
"use strict";
(() => {
  for (const button of document.querySelectorAll("[data-print]")) {
    button.hidden = false;
    button.addEventListener("click", () => window.print());
  }
})();
