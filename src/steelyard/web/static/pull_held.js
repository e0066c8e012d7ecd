// What the server did not take: the line in fields of its own, with the server's sentence and tick. Whoever goes on
// typing is not disturbed; what came after it waits.
"use strict";

globalThis.PullHeld = class PullHeld {
  #room = document.getElementById("pull-held-room");
  #deeds;

  // goOn, leaveOut: what the person may decide.
  constructor(deeds) {
    this.#deeds = deeds;
  }

  // A sentence with its facts.
  static fill(sentence, facts) {
    return sentence.replace(/\{(\w+)\}/g, (_, name) => facts[name]);
  }

  // A line in one text, to be shown and compared.
  static lineOf({ line, no_click, click, bucket }) {
    return [line, no_click, click, bucket].filter(Boolean).join(" / ");
  }

  clear() {
    this.#room.replaceChildren();
  }

  // item: what was sent. page: the server's answer. points, phase: of the page that is shown.
  show(item, page, { points, phase }) {
    const box = document.getElementById("pull-held").content.cloneNode(true);
    const fields = "point" in item ? page.getElementById("pull-fields") : null;
    box.querySelector(".held-why").textContent = PullHeld.#why(page, fields);
    if (fields) box.querySelector(".held-fields").append(...PullHeld.#renamed(fields));
    const where = box.querySelector("select");
    where.append(...points.map(({ name, of }) => new Option(name, of, false, Number(of) === item.point)));
    where.closest(".held-point").hidden = item.phase !== phase;
    box.querySelector("form").addEventListener("submit", (event) => {
      event.preventDefault();
      if (fields) PullHeld.#mend(item, event.target);
      if (item.phase === phase) item.point = Number(where.value);
      this.#deeds.goOn();
    });
    box.querySelector('[data-deed="leave"]').addEventListener("click", () => this.#deeds.leaveOut());
    this.#room.replaceChildren(box);
  }

  // The reason, where it does not stand beside a field already.
  static #why(page, fields) {
    if (fields?.querySelector(".trouble")) return "";
    const troubles = [...page.querySelectorAll(".trouble-box li")].map((trouble) => trouble.textContent);
    return troubles.join(" ") || (page.querySelector("main p")?.textContent ?? "");
  }

  // The fields as they were sent back, under names that the page does not have yet.
  static #renamed(fields) {
    for (const part of fields.querySelectorAll("[id], [for], [aria-describedby]")) {
      for (const name of ["id", "for", "aria-describedby"]) {
        if (part.hasAttribute(name)) part.setAttribute(name, part.getAttribute(name).replace(/\b(f|pull)-/g, "held-"));
      }
    }
    fields.querySelector(".masses")?.remove();
    return [...fields.childNodes];
  }

  static #mend(item, form) {
    const typed = Object.fromEntries(new FormData(form));
    item.typed = { ...typed, ...(item.typed.sent_twice && { sent_twice: "yes" }) };
    item.text = PullHeld.lineOf(typed);
  }
};
