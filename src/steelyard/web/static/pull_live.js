// Is told at once when somebody else writes on this check; asks again by itself when the line is cut.
"use strict";

globalThis.PullLive = class PullLive {
  #address;
  #told;
  #tries = 0;
  last = 0; // the latest entry the server spoke of

  // told(): a later entry may be there.
  constructor(check, told) {
    this.#address = `/live/${check}`;
    this.#told = told;
    this.#open();
  }

  #open() {
    const line = new WebSocket(new URL(this.#address, location.href.replace(/^http/, "ws")));
    line.addEventListener("message", (event) => {
      this.#tries = 0;
      this.last = JSON.parse(event.data).last;
      this.#told();
    });
    line.addEventListener("close", (event) => {
      if (event.code === 1008) return; // not for us
      this.#tries += 1;
      setTimeout(() => this.#open(), Math.min(this.#tries, 10) * 1000);
    });
  }
};
