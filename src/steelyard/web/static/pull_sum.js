// What the loads come to while somebody types them, below each field. The server reads them again when a pull is taken.
"use strict";

globalThis.PullSum = class PullSum {
  static KILOGRAM = { kg: 1, g: 0.001, lb: 0.45359237, oz: 0.028349523125 };
  static MASS = /^(\d+(?:[.,]\d+)?)\s*(kg|g|lb|oz)(?:\s*±.*)?$/u;
  #form;
  #known; // masses and scales of the kit by name, as the server knows them

  constructor(form) {
    this.#form = form;
    this.#known = JSON.parse(form.dataset.known);
    form.addEventListener("input", () => this.show());
  }

  show() {
    for (const room of this.#form.querySelectorAll("[data-sum]")) {
      const field = this.#form.elements[room.dataset.sum];
      const said = this.#said(field.value, document.activeElement === field);
      if (room.textContent !== said) room.textContent = said;
    }
  }

  // isTyped: whoever is still at the last piece is not told that it is unknown.
  #said(text, isTyped) {
    const pieces = text.trim().split(/\s\+\s/).map((piece) => piece.trim());
    if (!text.trim()) return "";
    const masses = pieces.map((piece) => this.#kilogram(piece));
    const unknown = pieces.find((piece, i) => masses[i] === null && !(isTyped && i === pieces.length - 1));
    if (unknown !== undefined) return PullHeld.fill(this.#form.dataset.unknown, { piece: unknown });
    const sum = masses.reduce((all, mass) => all + (mass ?? 0), 0);
    if (sum === 0) return "";
    const facts = { kilogram: this.#printed(sum), all: this.#printed(sum + this.#known.always) };
    return PullHeld.fill(this.#form.dataset.sumWords, facts);
  }

  #kilogram(piece) {
    const { mass, scale } = this.#known;
    if (Object.hasOwn(mass, piece)) return mass[piece];
    const [weighed, name] = piece.split(/\s+on\s+/);
    const read = PullSum.MASS.exec(weighed);
    if (!read || (name !== undefined && !Object.hasOwn(scale, name))) return null;
    const scales = Object.values(scale);
    const only = scales.length === 1 && !piece.includes("±") ? scales[0] : 1;
    return Number(read[1].replace(",", ".")) * PullSum.KILOGRAM[read[2]] * (name === undefined ? only : scale[name]);
  }

  #printed(kilogram) {
    return kilogram.toFixed(3).replace(".", this.#known.mark);
  }
};
