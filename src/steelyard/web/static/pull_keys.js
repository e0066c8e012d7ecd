// Keys while nothing has the focus. A device types like a keyboard: its characters gather in the field, Enter sends
// them. Single letters are deeds while the line is empty. Nothing here ever takes the focus away from a control.
"use strict";

globalThis.PullKeys = class PullKeys {
  static BEGINS = /^[0-9+\-−.,]$/u;
  static TYPING = "textarea, select, [contenteditable], input:not([type=checkbox], [type=radio], [type=button], [type=submit])";
  static CONTROLS = `${PullKeys.TYPING}, dialog, a[href], button, input, summary, [tabindex]:not([tabindex="-1"])`;
  static DEVICE_MS = 1000; // a line begun that short ago is still being typed
  static SPACE_MS = 150; // a blank followed by more within this time stood inside the line
  #field;
  #accept;
  #deeds;
  #typedAt = -Infinity;
  #blank = 0;

  // field(): where a line gathers. accept(at): take what stands there. deeds: what each letter does.
  constructor({ field, accept, deeds }) {
    this.#field = field;
    this.#accept = accept;
    this.#deeds = deeds;
    document.addEventListener("keydown", (event) => this.#key(event));
  }

  #key(event) {
    const isChord = (event.ctrlKey || event.altKey) && !event.getModifierState("AltGraph");
    if (event.defaultPrevented || event.isComposing || event.metaKey || isChord) return;
    const on = document.activeElement;
    if (on?.matches(PullKeys.TYPING)) return;
    const isFree = !on?.matches(PullKeys.CONTROLS);
    const isTyping = this.#field().value !== "" && event.timeStamp - this.#typedAt < PullKeys.DEVICE_MS;
    if (!isFree && !isTyping && !PullKeys.BEGINS.test(event.key)) return;
    if (this.#does(event, isFree)) event.preventDefault();
  }

  #does(event, isFree) {
    const { key } = event;
    const field = this.#field();
    const isEmpty = field.value === "";
    if (key === "Enter" || (key === "PageDown" && isFree)) return this.#take(event);
    if (key === " ") return isEmpty || isFree ? this.#takeUnlessMore(event) : this.#type(event, key);
    if (key === "Escape" && !isEmpty) return this.#rub(field, "");
    if (key === "Backspace" && !isEmpty) return this.#rub(field, field.value.slice(0, -1));
    if (key.length !== 1) return false;
    if (isEmpty && !PullKeys.BEGINS.test(key)) return !event.repeat && this.#deed(key);
    return this.#type(event, key);
  }

  #deed(key) {
    if (!Object.hasOwn(this.#deeds, key)) return false;
    this.#deeds[key]();
    return true;
  }

  #type(event, key) {
    const blank = this.#blank ? " " : "";
    this.#stopWaiting();
    this.#typedAt = event.timeStamp;
    this.#rub(this.#field(), this.#field().value + blank + key);
    return true;
  }

  #rub(field, value) {
    field.value = value;
    field.dispatchEvent(new Event("input", { bubbles: true }));
    return true;
  }

  #take(event) {
    this.#stopWaiting();
    if (!event.repeat) this.#accept(event.timeStamp);
    return true;
  }

  // Space takes the line; inside a device's line it is a blank.
  #takeUnlessMore(event) {
    if (event.repeat) return true;
    this.#stopWaiting();
    this.#typedAt = event.timeStamp;
    const take = () => {
      this.#blank = 0;
      this.#accept(event.timeStamp);
    };
    if (this.#field().value === "") take();
    else this.#blank = setTimeout(take, PullKeys.SPACE_MS);
    return true;
  }

  #stopWaiting() {
    clearTimeout(this.#blank);
    this.#blank = 0;
  }
};
