// Readings that are not yet saved: kept on this device, sent one after another. Each has a token of its own from
// the moment it was read, so that a repeat after a lost answer, a reload or a second window is never a second pull.
"use strict";

globalThis.PullQueue = class PullQueue {
  #key;
  #deliver;
  #changed;
  #items;
  #gone = new Set();
  #isSending = false;
  #hurry = () => {};
  held = null; // what the server did not take; all behind it waits
  isAway = false;

  // deliver(item): answers "taken", "held" or "away". changed(): something came, went or waits.
  constructor(check, { deliver, changed }) {
    this.#key = `steelyard-unsent-${check}`;
    this.#deliver = deliver;
    this.#changed = changed;
    this.#items = this.#kept();
    globalThis.addEventListener("online", () => this.#hurry());
    document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && this.#hurry());
  }

  get items() {
    return this.#items;
  }

  // Takes its place at the end. item: token, path, typed; for a line also text, point and isCounted.
  add(item) {
    this.#items.push(item);
    this.#keep();
    this.#changed();
    this.run();
  }

  // On with what was held, after the person mended it.
  goOn() {
    this.held = null;
    this.#keep();
    this.#changed();
    this.run();
  }

  // The person leaves out what was held.
  leaveOut() {
    this.#drop(this.held);
    this.goOn();
  }

  async run() {
    if (this.#isSending) return;
    this.#isSending = true;
    for (let tries = 0; this.#items.length && !this.held; ) {
      const item = this.#items[0];
      const came = await this.#deliver(item);
      this.isAway = came === "away";
      if (came === "taken") this.#drop(item);
      if (came === "held") this.held = item;
      this.#changed();
      tries = this.isAway ? tries + 1 : 0;
      if (this.isAway) await this.#pause(Math.min(tries, 5) * 1000);
    }
    this.#isSending = false;
  }

  #pause(milliseconds) {
    return new Promise((done) => {
      this.#hurry = done;
      setTimeout(done, milliseconds);
    });
  }

  #drop(item) {
    this.#gone.add(item.token);
    this.#items = this.#items.filter((other) => other !== item);
    this.#keep();
  }

  #kept() {
    try {
      return JSON.parse(localStorage.getItem(this.#key)) ?? [];
    } catch {
      return []; // storage refused or not ours: what is read now is held in this page
    }
  }

  // Lines of another window on this check stay where they are.
  #keep() {
    const own = new Set(this.#items.map((item) => item.token));
    const others = this.#kept().filter((item) => !own.has(item.token) && !this.#gone.has(item.token));
    const all = [...others, ...this.#items];
    try {
      if (all.length) localStorage.setItem(this.#key, JSON.stringify(all));
      else localStorage.removeItem(this.#key);
    } catch {
      // the page itself still holds them
    }
  }
};
