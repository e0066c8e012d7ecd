// What helps while the eyes are elsewhere: tones, reading aloud by a voice of this machine, a screen that stays on.
// Each is off until somebody presses its button; the choice is kept on this device.
"use strict";

globalThis.PullVoice = class PullVoice {
  static TONES = { in: [[880, 0.09]], out: [[330, 0.16], [262, 0.22]], refused: [[196, 0.35]] };
  #room;
  #tones = null;
  #voice = null;
  #lock = null;

  constructor(room) {
    this.#room = room;
    this.#aid("sounds", "AudioContext" in globalThis);
    this.#aid("awake", "wakeLock" in navigator, () => this.#awake());
    if ("speechSynthesis" in globalThis) {
      this.#voices();
      speechSynthesis.addEventListener?.("voiceschanged", () => this.#voices());
    }
    document.addEventListener("visibilitychange", () => this.#awake());
    this.#awake();
  }

  // What became of a reading: `in`, `out`, `refused` or another word; how it is said aloud.
  tell(state, spoken) {
    if (this.isOn("sounds")) this.#sound(PullVoice.TONES[state] ?? []);
    if (this.isOn("speech") && this.#voice && spoken) {
      const said = new SpeechSynthesisUtterance(spoken);
      said.voice = this.#voice;
      said.lang = this.#voice.lang;
      speechSynthesis.cancel();
      speechSynthesis.speak(said);
    }
  }

  isOn(name) {
    const button = this.#room.querySelector(`[data-aid="${name}"]`);
    return !button.hidden && button.ariaPressed === "true";
  }

  // Shows a button where the machine can do it; remembers what was chosen.
  #aid(name, isThere, changed = () => {}) {
    const button = this.#room.querySelector(`[data-aid="${name}"]`);
    if (!isThere || !button.hidden) return;
    button.hidden = false;
    button.ariaPressed = String(PullVoice.kept(name) === "on");
    button.addEventListener("click", () => {
      button.ariaPressed = String(button.ariaPressed !== "true");
      PullVoice.keep(name, button.ariaPressed === "true" ? "on" : "off");
      changed();
    });
  }

  static kept(name) {
    try {
      return localStorage.getItem(`steelyard-aid-${name}`);
    } catch {
      return null;
    }
  }

  static keep(name, value) {
    try {
      localStorage.setItem(`steelyard-aid-${name}`, value);
    } catch {
      // holds for this page
    }
  }

  #voices() {
    const local = speechSynthesis.getVoices().filter((voice) => voice.localService);
    const own = document.documentElement.lang;
    this.#voice = local.find((voice) => voice.lang.startsWith(own)) ?? null;
    this.#aid("speech", this.#voice !== null);
  }

  #sound(tones) {
    this.#tones ??= new AudioContext();
    this.#tones.resume();
    let at = this.#tones.currentTime + 0.01;
    for (const [hertz, seconds] of tones) {
      const tone = this.#tones.createOscillator();
      const loud = this.#tones.createGain();
      tone.frequency.value = hertz;
      loud.gain.setValueAtTime(0.25, at);
      loud.gain.exponentialRampToValueAtTime(0.001, at + seconds);
      tone.connect(loud).connect(this.#tones.destination);
      tone.start(at);
      tone.stop(at + seconds);
      at += seconds;
    }
  }

  async #awake() {
    if (!this.isOn("awake")) {
      await this.#lock?.release();
      this.#lock = null;
    } else if (document.visibilityState === "visible" && (!this.#lock || this.#lock.released)) {
      try {
        this.#lock = await navigator.wakeLock.request("screen");
      } catch {
        this.#lock = null; // the system says no, as with a low battery; asked again when the page is seen again
      }
    }
  }
};
