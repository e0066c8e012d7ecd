// The pull page while it is alive. Without it the page is a form; with it a reading is taken the moment it comes,
// waits its turn on this device, and only what changed on the page is drawn anew.
"use strict";
(() => {
  const here = document.getElementById("pulling");
  const form = document.getElementById("pull-form");
  const words = document.getElementById("pull-words").dataset;
  const told = document.getElementById("pull-told");
  const isLoad = form.dataset.way === "load";
  const SENT_TWICE_MS = 400; // own rule; nobody pulls a tool twice in that time
  const PATIENCE_MS = 10_000;
  const AWAY = new Set([502, 503, 504, 507]);

  const said = { queue: "", remark: "" };
  const tell = (news) => {
    Object.assign(said, news);
    const sentence = said.queue || said.remark;
    if (told.textContent !== sentence) told.textContent = sentence;
  };
  const read = (text) => new DOMParser().parseFromString(text, "text/html");

  // ------------------------------------------------------------------ where a reading belongs

  const points = () => [...here.querySelectorAll("[data-of]")].map(({ dataset }) => dataset);
  const ofThisPhase = () => queue.items.filter((item) => item.phase === here.dataset.phase && "point" in item);

  // The point on the page, or where the ones not yet saved will have led to: the same way the server goes on.
  const nextPoint = () => {
    const unsent = ofThisPhase();
    const missing = points().map(({ of, planned, counted }) =>
      planned - counted - unsent.filter((item) => item.isCounted && item.point === Number(of)).length);
    const point = unsent.at(-1)?.point ?? Number(here.dataset.point);
    if (!unsent.length || missing[point] > 0) return point;
    const open = missing.findIndex((count) => count > 0);
    return open < 0 ? missing.length - 1 : open;
  };

  // ------------------------------------------------------------------ sending

  // Posts one item; answers what became of it.
  const deliver = async (item) => {
    const body = new URLSearchParams({ ...item.typed, submission: item.token });
    if ("point" in item) {
      body.set("point", item.point);
      body.set("seen", here.dataset.seen);
    }
    let answer, text;
    try {
      const signal = AbortSignal.timeout(PATIENCE_MS);
      answer = await fetch(item.path, { method: "POST", body, signal });
      text = await answer.text();
    } catch {
      return "away";
    }
    if (AWAY.has(answer.status)) return "away";
    const page = read(text);
    if (answer.ok) show(page, answer.url);
    else hold(page, answer.status);
    return answer.ok ? "taken" : "held";
  };

  const changed = () => {
    const unsent = queue.items;
    const next = points()[nextPoint()]?.name;
    const now = [];
    if (queue.isAway) now.push(words.away);
    if (unsent.length > 1 || queue.isAway) {
      const lines = unsent.map((item) => item.text).join(" · ");
      now.push(PullHeld.fill(words.unsent, { count: unsent.length, lines }));
      if (nextPoint() !== Number(here.dataset.point)) now.push(PullHeld.fill(words.next, { point: next }));
    }
    tell({ queue: now.join(" ") });
    if (!queue.held) held.clear();
    if (!unsent.length) meanwhile();
  };

  // ------------------------------------------------------------------ the page after an answer

  const show = (page, address) => {
    const fresh = page.getElementById("pulling");
    if (!fresh || fresh.dataset.phase !== here.dataset.phase) {
      location.assign(address);
      return;
    }
    if (Number(fresh.dataset.seen) < Number(here.dataset.seen)) return; // overtaken by a later answer
    const isNew = fresh.dataset.last !== here.dataset.last || fresh.dataset.state !== here.dataset.state;
    renew(page);
    document.getElementById("pull-trouble").replaceChildren();
    document.title = page.title;
    if (address) history.replaceState(null, "", address);
    if (isNew) voice.tell(here.dataset.state, here.dataset.spoken);
  };

  // Only what changed; what was open stays open, and the focus stays where it was.
  const renew = (page) => {
    const focus = document.activeElement?.id;
    const open = [...here.querySelectorAll("details[open]")].map(({ id }) => id);
    for (const part of document.querySelectorAll("[data-part]")) {
      const fresh = page.querySelector(`[data-part="${part.dataset.part}"]`);
      if (fresh && fresh.innerHTML !== part.innerHTML) part.replaceChildren(...fresh.childNodes);
    }
    if (here.dataset.point !== page.getElementById("pulling").dataset.point) beginAnew(page);
    Object.assign(here.dataset, page.getElementById("pulling").dataset);
    for (const name of ["submission", "seen", "point"]) {
      form.elements[name].value = page.getElementById("pull-form").elements[name].value;
    }
    const unit = page.querySelector("#pull-form .unit");
    if (unit) form.querySelector(".unit").textContent = unit.textContent;
    for (const id of open) document.getElementById(id)?.setAttribute("open", "");
    if (focus && document.activeElement?.id !== focus) document.getElementById(focus)?.focus();
  };

  // Another point begins at another load; what is being typed for it already stays.
  const beginAnew = (page) => {
    if (!isLoad || form.elements.click.value || form.elements.bucket.value) return;
    form.elements.no_click.value = page.getElementById("pull-form").elements.no_click.value;
    showMasses?.();
    sums.show();
  };

  // The server did not take the first item: it stays, with the reason, until the person decides.
  const hold = (page, status) => {
    if (status === 409 && page.getElementById("pulling")) renew(page);
    held.show(queue.items[0], page, { points: points(), phase: here.dataset.phase });
    voice.tell("refused", "");
  };

  // ------------------------------------------------------------------ taking

  let before = { text: "", at: -Infinity };

  // A line as it came. at: when, by the clock of events. [ms]
  const take = (typed, at) => {
    const text = PullHeld.lineOf(typed);
    const isTwice = text === before.text && at - before.at <= SENT_TWICE_MS;
    before = { text, at };
    tell({ remark: "" });
    const noise = crypto.getRandomValues(new Uint32Array(2));
    queue.add({
      token: `${here.dataset.submission}.${[...noise].map((part) => part.toString(36)).join("")}`,
      path: form.getAttribute("action"),
      phase: here.dataset.phase,
      point: nextPoint(),
      typed: { ...typed, ...(isTwice && { sent_twice: "yes" }) },
      text,
      isCounted: !isTwice && !typed.never_clicked,
    });
  };

  // What stands in the form; the load without a click stays, since the next pull begins with it.
  const accept = (at) => {
    const typed = {};
    for (const field of form.elements) {
      const isOn = field.type === "checkbox" ? field.checked : field.name && field.type !== "hidden";
      if (isOn && field.value.trim()) typed[field.name] = field.value.trim();
    }
    const isThere = ["line", "click", "bucket", "never_clicked"].some((name) => name in typed);
    if (!isThere) {
      tell({ remark: words.nothing });
      return;
    }
    for (const name of ["line", "click", "bucket"]) if (form.elements[name]) form.elements[name].value = "";
    for (const name of ["never_clicked", "sure"]) if (form.elements[name]) form.elements[name].checked = false;
    for (const trouble of form.querySelectorAll(".trouble, .trouble-box")) trouble.remove();
    form.elements.sure?.closest(".field").remove();
    showMasses?.();
    sums?.show();
    take(typed, at);
  };

  // ------------------------------------------------------------------ striking out, taking back

  const send = (deed, reason) => {
    const { submission, ...typed } = Object.fromEntries(new FormData(deed));
    const text = deed.closest("[data-reading]").dataset.reading;
    if (reason) typed.reason = reason;
    queue.add({ token: submission, path: deed.getAttribute("action"), typed, text });
  };

  const ask = (row) => PullStrike.ask(row, words.why, send);

  const strikeLast = () => {
    if (ofThisPhase().length) tell({ remark: words.first });
    else ask(here.querySelector("[data-pull]:not(.is-struck)"));
  };

  const takeBackLast = () => {
    const struck = here.querySelector("[data-pull].is-struck form");
    if (struck) send(struck);
    else tell({ remark: words.noneStruck });
  };

  const help = () => document.getElementById("pull-keys").showModal();

  // ------------------------------------------------------------------ other windows

  const otherRoom = document.getElementById("pull-other");

  const meanwhile = () => {
    if (queue.items.length || live.last <= Number(here.dataset.seen)) return;
    const isBusy = [...form.elements].some((field) => field.type === "text" && field.value)
      || document.querySelector("dialog[open], .strike[open]");
    if (isBusy) offer();
    else look();
  };

  const offer = () => {
    if (otherRoom.hasChildNodes()) return;
    otherRoom.replaceChildren(document.getElementById("pull-other-note").content.cloneNode(true));
  };

  // Show what stands now; what is being typed stays.
  const look = async () => {
    let answer, text;
    try {
      answer = await fetch(location.href, { signal: AbortSignal.timeout(PATIENCE_MS) });
      text = await answer.text();
    } catch {
      answer = null;
    }
    if (!answer?.ok) {
      offer();
      return;
    }
    otherRoom.replaceChildren();
    show(read(text), answer.url);
    tell({ remark: words.shown });
  };

  // ------------------------------------------------------------------ joined

  const field = form.elements[isLoad ? "bucket" : "line"];
  const voice = new PullVoice(document.getElementById("live-aids"));
  const queue = new PullQueue(here.dataset.check, { deliver, changed });
  const held = new PullHeld({ goOn: () => queue.goOn(), leaveOut: () => queue.leaveOut() });
  const deeds = { strike: strikeLast, back: takeBackLast, help, show: look };
  let pressed = 0; // when the key or button was pressed that a submit comes from
  const masses = document.getElementById("pull-masses");
  const showMasses = masses && masses.querySelector("[data-mass]")
    ? PullTouch.masses(masses, [form.elements.no_click, form.elements.click]) : null;
  const sums = isLoad ? new PullSum(form) : null;
  const pad = form.querySelector(".keypad");
  if (pad) {
    PullTouch.keypad(pad, field, accept);
    PullTouch.choosePad(pad, field, document.querySelector('[data-aid="keypad"]'), PullVoice);
  }
  PullStrike.letters(() => field.value === "");
  PullTouch.longPress(here, ask);
  new PullKeys({ field: () => field, accept, deeds: { x: strikeLast, u: takeBackLast, "?": help } });
  for (const kind of ["keydown", "pointerdown"]) {
    document.addEventListener(kind, (event) => { pressed = event.timeStamp; }, { capture: true });
  }
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    accept(pressed);
  });
  here.addEventListener("submit", (event) => {
    if (!event.target.closest("[data-pull]")) return;
    event.preventDefault();
    send(event.target, event.submitter?.value);
  });
  document.addEventListener("click", (event) => {
    const deed = event.target.closest("[data-deed]")?.dataset.deed;
    if (deed && Object.hasOwn(deeds, deed)) deeds[deed]();
  });
  globalThis.addEventListener("pageshow", (event) => event.persisted && location.reload());
  document.getElementById("live-aids").hidden = false;
  const live = new PullLive(here.dataset.check, () => meanwhile());
  queue.run();
})();
