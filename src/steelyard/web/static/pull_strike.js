// Why is a pull struck out? Large buttons, each with a letter; digits stay free for devices.
"use strict";

globalThis.PullStrike = {
  LETTERS: "abcdefgh",

  // row: of the list. title: with a place for the reading. send(form, reason): strikes it out.
  ask(row, title, send) {
    const form = row?.querySelector(".strike form");
    if (!form) return;
    const dialog = document.getElementById("pull-why");
    dialog.querySelector("h2").textContent = PullHeld.fill(title, { reading: row.dataset.reading });
    const choices = [...form.querySelectorAll("button")].map((button, i) => {
      const choice = PullStrike.choice(button, PullStrike.LETTERS[i]);
      choice.addEventListener("click", () => {
        dialog.close();
        send(form, button.value);
      });
      return choice;
    });
    dialog.querySelector(".why-choices").replaceChildren(...choices);
    dialog.showModal();
  },

  choice(button, letter) {
    const choice = button.cloneNode(true);
    const key = document.createElement("kbd");
    choice.type = "button";
    choice.dataset.key = key.textContent = letter;
    key.ariaHidden = "true";
    choice.append(key);
    return choice;
  },

  // isFree(): no device is typing a line just now.
  letters(isFree) {
    document.getElementById("pull-why").addEventListener("keydown", (event) => {
      const choice = event.currentTarget.querySelector(`button[data-key="${CSS.escape(event.key)}"]`);
      if (choice && isFree()) choice.click();
    });
  },
};
