// Fingers: the keypad, the shop's own masses, a long press on a pull or its dot.
"use strict";

globalThis.PullTouch = {
  LONG_MS: 600,
  STILL_PX: 12,

  // Big keys type into the field; the focus stays where it is. accept(at): Enter.
  keypad(pad, field, accept) {
    pad.addEventListener("pointerdown", (event) => event.preventDefault());
    pad.addEventListener("mousedown", (event) => event.preventDefault());
    pad.addEventListener("click", (event) => {
      const key = event.target.closest("[data-key]")?.dataset.key;
      if (!key) return;
      if (key === "Enter") accept(event.timeStamp);
      else PullTouch.type(field, key);
    });
  },

  // Keys on the screen, or the device's own keyboard; at first the former where there is a finger.
  choosePad(pad, field, button, { kept, keep }) {
    const show = (isOn) => {
      button.ariaPressed = String(isOn);
      pad.classList.toggle("is-away", !isOn);
      field.inputMode = isOn ? "none" : "decimal";
    };
    const finger = matchMedia("(any-pointer: coarse)").matches ? "on" : "off";
    button.hidden = false;
    show((kept("keypad") ?? finger) === "on");
    button.addEventListener("click", () => {
      show(button.ariaPressed !== "true");
      keep("keypad", button.ariaPressed === "true" ? "on" : "off");
    });
  },

  type(field, key) {
    const isOn = document.activeElement === field;
    let start = isOn ? field.selectionStart : field.value.length;
    const end = isOn ? field.selectionEnd : field.value.length;
    if (key === "Backspace" && start === end) start = Math.max(0, start - 1);
    field.setRangeText(key === "Backspace" ? "" : key, start, end, "end");
    field.dispatchEvent(new Event("input", { bubbles: true }));
  },

  // A tap hangs a mass on the load in hand, a second one takes it off; a whole load goes into its own field.
  masses(room, fields) {
    let hand = fields[0];
    const hung = () => hand.value.split("+").map((name) => name.trim()).filter(Boolean);
    const show = () => {
      const names = hung();
      for (const button of room.querySelectorAll("[data-mass]")) {
        button.setAttribute("aria-pressed", String(names.includes(button.dataset.mass)));
      }
      for (const field of fields) field.classList.toggle("in-hand", field === hand);
    };
    for (const field of fields) {
      field.addEventListener("focus", () => {
        hand = field;
        show();
      });
      field.addEventListener("input", show);
    }
    room.addEventListener("pointerdown", (event) => event.preventDefault());
    room.addEventListener("mousedown", (event) => event.preventDefault());
    room.addEventListener("click", (event) => {
      const button = event.target.closest("button");
      if (button?.dataset.mass) {
        const names = hung().filter((name) => name !== button.dataset.mass);
        const isOff = names.length < hung().length;
        hand.value = (isOff ? names : [...names, button.dataset.mass]).join(" + ");
      } else if (button?.dataset.load) {
        hand = fields.find((field) => field.name === button.dataset.into);
        hand.value = button.dataset.load;
      } else if (button?.dataset.deed === "next-load") {
        const [noClick, click] = fields;
        noClick.value = click.value || noClick.value;
        click.value = noClick.value;
        hand = click;
      }
      hand.dispatchEvent(new Event("input", { bubbles: true }));
    });
    room.hidden = false;
    show();
    return show;
  },

  // pressed(row): a finger or the mouse was held on a pull of the list, or on its dot.
  longPress(room, pressed) {
    let timer = 0;
    let from = null;
    const stop = () => clearTimeout(timer);
    room.addEventListener("pointerdown", (event) => {
      stop();
      const row = event.target.closest("[data-pull]") ?? PullTouch.rowOfDot(room, event);
      if (!row || event.target.closest("button, summary, a")) return;
      from = event;
      timer = setTimeout(() => {
        // what opens under the finger must not be pressed by its lifting
        event.target.addEventListener("touchend", (end) => end.preventDefault(), { once: true });
        pressed(row);
      }, PullTouch.LONG_MS);
    });
    room.addEventListener("pointermove", (event) => {
      if (from && Math.hypot(event.clientX - from.clientX, event.clientY - from.clientY) > PullTouch.STILL_PX) stop();
    });
    for (const end of ["pointerup", "pointercancel"]) room.addEventListener(end, stop);
    room.addEventListener("contextmenu", (event) => {
      if (event.target.closest("[data-pull], .dots-room")) event.preventDefault();
    });
  },

  // The pull whose dot is nearest to the finger; the dots stand in the order of the pulls.
  rowOfDot(room, event) {
    const strip = event.target.closest(".dots-room");
    if (!strip) return null;
    const dots = [...strip.querySelectorAll("g.ch-plain, g.ch-out, g.ch-none")];
    const far = (dot) => {
      const box = dot.getBoundingClientRect();
      return Math.abs(event.clientX - (box.left + box.right) / 2);
    };
    const nearest = dots.reduce((best, dot) => (best && far(best) <= far(dot) ? best : dot), null);
    const rows = [...room.querySelectorAll("[data-pull]")].reverse();
    return nearest && far(nearest) < 32 ? (rows[dots.indexOf(nearest)] ?? null) : null;
  },
};
